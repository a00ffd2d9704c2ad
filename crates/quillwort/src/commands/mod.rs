//! One file a group of verbs.

mod back;
mod efficacy;
mod effort;
mod findings;
mod keeping;
mod lake;
mod limit;
mod one_survey;
mod outward;
mod plan;
mod record;
mod serve;
mod two_surveys;
mod writing;
mod years;

use crate::cli::Verb;
use crate::output::Answer;
use crate::ports;
use std::path::Path;
use units::{LengthUnit, Metres, SquareMetres, UnitSystem};
use workflow::{Error, LakeBook, Result};

/// Does what was typed.
pub(crate) fn run(verb: Option<Verb>) -> Result<Answer> {
    match verb {
        None => serve::last(),
        Some(Verb::Demo(args)) => serve::demo(&args),
        Some(Verb::New(args)) => lake::new(&args),
        Some(Verb::Add(args)) => lake::add(&args),
        Some(Verb::Lake(args)) => lake::lake(&args),
        Some(Verb::Plan(args)) => plan::plan(&args),
        Some(Verb::Effort(args)) => effort::effort(&args),
        Some(Verb::Route(args)) => plan::route(&args),
        Some(Verb::Record(args)) => record::record(&args),
        Some(Verb::Check(args)) => record::check(&args),
        Some(Verb::Amend(args)) => record::amend(&args),
        Some(Verb::Seal(args)) => record::seal(&args),
        Some(Verb::Verify(args)) => record::verify(&args),
        Some(Verb::Surveys(args)) => findings::surveys(&args),
        Some(Verb::Findings(args)) => findings::findings(&args),
        Some(Verb::Compare(args)) => findings::compare(&args),
        Some(Verb::Efficacy(args)) => efficacy::efficacy(&args),
        Some(Verb::Limit(args)) => limit::limit(&args),
        Some(Verb::Trend(args)) => years::trend(&args),
        Some(Verb::Spread(args)) => years::spread(&args),
        Some(Verb::Print(args)) => outward::print(&args),
        Some(Verb::Kit(args)) => outward::kit(&args),
        Some(Verb::Export(args)) => outward::export(&args),
        Some(Verb::Backup(args)) => outward::backup(&args),
        Some(Verb::Keeping(verb)) => keeping::run(&verb),
        Some(Verb::Writing(verb)) => writing::run(&verb),
        Some(Verb::Serve(args)) => serve::serve(&args),
    }
}

fn open(path: &Path) -> Result<LakeBook> {
    workflow::open_book(path, ports::world())
}

fn read(path: &Path) -> Result<LakeBook> {
    workflow::read_book(path, ports::world())
}

/// A length as typed, in the book's units when it has none.
fn length(text: Option<&String>, units: UnitSystem) -> Result<Option<Metres>> {
    text.map(|text| {
        units::parse_length(text, units.length_unit()).map_err(|error| {
            Error::input(error.to_string()).hint("write it with its unit, such as `15ft` or `4.5m`")
        })
    })
    .transpose()
}

/// As [`length`], as a plain number of metres.
fn metres(text: Option<&String>, units: UnitSystem) -> Result<Option<f64>> {
    Ok(length(text, units)?.map(Metres::metres))
}

fn area(text: Option<&String>, units: UnitSystem) -> Result<Option<SquareMetres>> {
    text.map(|text| {
        units::parse_area(text, units).map_err(|error| {
            Error::input(error.to_string()).hint("write it with its unit, such as `1ac` or `0.5ha`")
        })
    })
    .transpose()
}

fn unit(text: Option<&String>) -> Result<Option<LengthUnit>> {
    text.map(|text| {
        text.parse().map_err(|error: units::ParseLengthUnitError| Error::input(error.to_string()))
    })
    .transpose()
}
