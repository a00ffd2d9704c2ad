//! `efficacy`.

use super::findings::{number, points};
use super::read;
use crate::cli::EfficacyArgs;
use crate::output::{self, Answer};
use crate::table::Table;
use units::percent_whole;
use workflow::findings::EfficacyRequest;
use workflow::views::{
    ContrastView, ControlView, CountView, EffectView, EfficacyView, TaxonEffectView,
};
use workflow::{Error, Result};

pub(crate) fn efficacy(args: &EfficacyArgs) -> Result<Answer> {
    let book = read(&args.book)?;
    let request = EfficacyRequest {
        treatments: args.treatment.clone(),
        before: args.before.clone(),
        after: args.after.clone(),
        later: args.later.clone(),
        control: args.control.clone(),
        targets: args.target.clone(),
        worthwhile_fall: args.worthwhile.as_deref().map(share).transpose()?,
        seed: Some(args.seed),
    };
    let view = workflow::findings::efficacy_view(&book, &request)?;
    if args.json {
        output::json(&view)?;
        return Ok(Answer::Done);
    }
    output::data(&text(&view));
    Ok(Answer::Done)
}

/// `20%`, `20 %` or `0.2`.
pub(super) fn share(text: &str) -> Result<f64> {
    let number = text.trim();
    let (number, scale) = match number.strip_suffix('%') {
        Some(number) => (number.trim(), 100.0),
        None => (number, 1.0),
    };
    let value = number.parse::<f64>().ok().map(|value| value / scale);
    value.filter(|value| (0.0..=1.0).contains(value)).ok_or_else(|| {
        Error::input(format!("`{text}` is no share: expected 0 to 100 %"))
            .hint("write it as `20%` or `0.2`")
    })
}

fn text(view: &EfficacyView) -> String {
    let mut text = String::new();
    let names: Vec<String> =
        view.treatments.iter().map(|one| format!("{} {}", one.code, one.name)).collect();
    let before = view.before.as_ref().map_or("no survey", |one| one.survey.as_str());
    text.push_str(&format!(
        "{}: {before} before, {} after\nmeant for {} ({})\n\n",
        names.join("; "),
        view.after.survey,
        view.targets.join(", "),
        view.target_rule
    ));
    if !view.warnings.is_empty() {
        text.push_str("First, what restricts the answer\n");
        for one in &view.warnings {
            text.push_str(&format!("  {}\n", one.message));
        }
        text.push('\n');
    }
    for sentence in &view.sentences {
        text.push_str(&format!("{sentence}\n"));
    }
    text.push('\n');
    let mut table = Table::new(&[
        "code",
        "plant",
        ">treated before",
        ">after",
        ">untreated before",
        ">after",
        ">points beyond",
        ">interval",
        ">p",
        ">adjusted",
        ">smallest seen",
    ]);
    table.row(row("targets", "all targets together", &view.together));
    for one in view.target.iter().chain(&view.natives) {
        table.row(taxon_row(one));
    }
    text.push_str(&table.text());
    text.push_str("\nShare taken away of what would have stood there, all targets together\n");
    let mut table = Table::new(&["figure", ">share %", ">interval", "from"]);
    for (name, one) in [("Abbott", &view.abbott), ("Henderson and Tilton", &view.henderson_tilton)]
    {
        table.row(control_row(name, one.as_ref(), "frequencies"));
    }
    if let Some(density) = &view.together.density {
        let both =
            [("Abbott", &density.abbott), ("Henderson and Tilton", &density.henderson_tilton)];
        for (name, one) in both {
            table.row(control_row(name, one.as_ref(), "mean ratings, which are ranks"));
        }
    }
    text.push_str(&table.text());
    if let (Some(later), Some(effect)) = (&view.later, &view.persistence) {
        text.push_str(&format!("\nAnd a year on, {}\n", later.survey));
        let mut table = Table::new(&[
            "code",
            "plant",
            ">treated before",
            ">later",
            ">untreated before",
            ">later",
            ">points beyond",
            ">interval",
            ">p",
            ">adjusted",
            ">smallest seen",
        ]);
        table.row(row("targets", "all targets together", effect));
        text.push_str(&table.text());
    }
    text.push_str(&format!(
        "\n{} permutations and resamples, seed {}; method: docs/methods.md#did-it-work\n",
        view.permutations, view.seed
    ));
    text
}

fn taxon_row(of: &TaxonEffectView) -> Vec<String> {
    let name = if of.common_name.is_empty() { &of.scientific_name } else { &of.common_name };
    row(&of.code, name, &of.effect)
}

fn row(code: &str, name: &str, of: &EffectView) -> Vec<String> {
    let count = |one: &CountView| format!("{} of {}", one.k, one.n);
    vec![
        code.to_owned(),
        name.to_owned(),
        count(&of.treated.before),
        count(&of.treated.after),
        count(&of.untreated.before),
        count(&of.untreated.after),
        of.difference.as_ref().map_or_else(dash, |one| points(one.value)),
        of.difference.as_ref().map_or_else(dash, interval),
        number(of.p, 4),
        number(of.p_adjusted, 4),
        of.detectable.map_or_else(dash, points),
    ]
}

fn interval(of: &ContrastView) -> String {
    format!("{} to {}", points(of.low), points(of.high))
}

fn control_row(name: &str, of: Option<&ControlView>, from: &str) -> Vec<String> {
    vec![
        name.to_owned(),
        of.map_or_else(dash, |one| percent_whole(one.value)),
        of.and_then(|one| one.low.zip(one.high)).map_or_else(dash, |(low, high)| {
            format!("{} to {}", percent_whole(low), percent_whole(high))
        }),
        from.to_owned(),
    ]
}

fn dash() -> String {
    "–".to_owned()
}

#[cfg(test)]
mod tests {
    use super::share;

    #[test]
    fn a_share_is_read_as_people_write_it() {
        for text in ["20%", "20 %", "0.2", " 20.0% "] {
            assert!((share(text).unwrap() - 0.2).abs() < 1e-12, "{text}");
        }
        for text in ["20", "-5%", "a few", "", "%", "120%", "NaN"] {
            assert!(share(text).is_err(), "{text}");
        }
    }
}
