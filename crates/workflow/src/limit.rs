//! What the lake board calls too much: its own written limits, for alerts.

use crate::error::{Error, Result};
use crate::findings::{limit_view, policy, taxon_of};
use crate::views::BoardLimitView;
use jiff::civil::Date;
use lakebook::LakeBook;
use survey::{BoardLimit, BoardLimitId, Code, LimitKind};

/// A limit as the user writes it.
#[derive(Debug, Clone)]
pub struct LimitRequest {
    /// The board's own words.
    pub text: String,
    /// Day it was adopted.
    pub adopted: Date,
    /// Code or name of the plant; none for every introduced plant, one by one.
    pub taxon: Option<String>,
    /// Code of the zone; none for the whole lake.
    pub zone: Option<String>,
    /// What is too much.
    pub limit: LimitKind,
}

/// The limits of a book, by the day they were adopted; their numbers count from 1.
///
/// # Errors
/// When the book cannot be read.
pub fn limits(book: &LakeBook) -> Result<Vec<BoardLimitView>> {
    let taxa = book.taxa()?;
    let all = book.board_limits()?;
    Ok(all.iter().enumerate().map(|(n, one)| limit_view(n + 1, &policy(one), &taxa)).collect())
}

/// Keeps a limit.
///
/// # Errors
/// When it has no words, its number is no share, or the plant or the zone is not there.
pub fn set_limit(book: &mut LakeBook, request: &LimitRequest) -> Result<Vec<BoardLimitView>> {
    let taxon = match &request.taxon {
        None => None,
        Some(word) => Some(
            taxon_of(book, word)?
                .ok_or_else(|| {
                    Error::input("`any` is no plant a limit can be set for").hint(
                        "leave `--taxon` out: the limit then holds for every introduced plant",
                    )
                })?
                .id,
        ),
    };
    let zone = match &request.zone {
        None => None,
        Some(code) => Some(zone_of(book, code)?),
    };
    let limit = BoardLimit {
        id: BoardLimitId(book.new_id()),
        text: request.text.trim().to_owned(),
        adopted: request.adopted,
        taxon,
        zone,
        limit: request.limit,
    };
    policy(&limit).check().map_err(|error| {
        let text = error.to_string();
        let (message, hint) = text.split_once("\nhint: ").unwrap_or((&text, ""));
        Error::input(message).hint(hint)
    })?;
    let note = format!("limit of the lake board, adopted {}", limit.adopted);
    book.transact(&note, |writer| writer.put_board_limit(&limit))?;
    limits(book)
}

fn zone_of(book: &LakeBook, code: &str) -> Result<Code> {
    let zones = book.zones()?;
    let found = zones.iter().find(|zone| zone.code.as_str().eq_ignore_ascii_case(code.trim()));
    found.map(|zone| zone.code.clone()).ok_or_else(|| {
        let known: Vec<&str> = zones.iter().map(|zone| zone.code.as_str()).collect();
        Error::not_found(format!("no zone `{code}` in the book"))
            .hint(format!("one of `{}`", known.join("`, `")))
    })
}

/// Takes a limit off by its number; the change log keeps it.
///
/// # Errors
/// When there is no such number.
pub fn remove_limit(book: &mut LakeBook, number: usize) -> Result<Vec<BoardLimitView>> {
    let all = book.board_limits()?;
    let Some(limit) = number.checked_sub(1).and_then(|place| all.get(place)) else {
        return Err(Error::not_found(format!("no limit number `{number}`"))
            .hint("`quillwort limit BOOK` lists them with their numbers"));
    };
    let id = limit.id;
    book.transact("limit of the lake board taken off", |writer| writer.delete_board_limit(id))?;
    limits(book)
}
