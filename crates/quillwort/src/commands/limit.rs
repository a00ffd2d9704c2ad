//! `limit`.

use super::efficacy::share;
use super::{open, read};
use crate::cli::LimitArgs;
use crate::output::{self, Answer};
use crate::table::Table;
use survey::LimitKind;
use workflow::limit::{LimitRequest, limits, remove_limit, set_limit};
use workflow::views::BoardLimitView;
use workflow::{Error, Result};

pub(crate) fn limit(args: &LimitArgs) -> Result<Answer> {
    let views = match (&args.text, &args.adopted, args.remove) {
        (Some(text), Some(adopted), _) => {
            let request = LimitRequest {
                text: text.clone(),
                adopted: adopted.trim().parse().map_err(|_wrong| {
                    Error::input(format!("`{adopted}` is no day")).hint("write it as `2026-05-31`")
                })?,
                taxon: args.taxon.clone(),
                zone: args.zone.clone(),
                limit: kind(args)?,
            };
            set_limit(&mut open(&args.book)?, &request)?
        }
        (_, _, Some(number)) => remove_limit(&mut open(&args.book)?, number)?,
        _ => limits(&read(&args.book)?)?,
    };
    if args.json {
        output::json(&views)?;
    } else {
        output::data(&text(&views));
    }
    Ok(Answer::Done)
}

fn kind(args: &LimitArgs) -> Result<LimitKind> {
    match (&args.above, args.more_than, args.rating) {
        (Some(text), _, _) => Ok(LimitKind::FrequencyAbove(share(text)?)),
        (_, Some(sites), _) => Ok(LimitKind::SitesAbove(sites)),
        (_, _, Some(step)) => Ok(LimitKind::RatingAtLeast(step)),
        _ => Err(Error::input("the limit has no number").hint(
            "say what is too much with `--above 10%`, `--more-than 5` sites or `--rating 3`",
        )),
    }
}

fn text(views: &[BoardLimitView]) -> String {
    if views.is_empty() {
        return "The lake board has no written limit on record.\n".to_owned();
    }
    let mut table = Table::new(&[">number", "plant", "zone", "too much is", "adopted", "text"]);
    for one in views {
        table.row(vec![
            one.number.to_string(),
            one.taxon.clone().unwrap_or_else(|| "introduced".to_owned()),
            one.zone.clone().unwrap_or_default(),
            one.words.clone(),
            one.adopted.clone(),
            one.text.clone(),
        ]);
    }
    table.text()
}
