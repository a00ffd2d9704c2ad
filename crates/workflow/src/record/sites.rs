//! Surveys whose sites are written down as they come.

use super::scale_of;
use crate::error::{Error, Result};
use lakebook::LakeBook;
use survey::{Code, Site, SiteId, Survey, SurveyId};

/// Begins a survey without a plan: sites are added while they are written up.
///
/// # Errors
/// When the name is empty or taken, nobody knows the scale, or it is another than the lake's surveys
/// are rated on and nobody says why.
pub fn begin_survey(
    book: &mut LakeBook,
    name: &str,
    scale: &str,
    scale_reason: &str,
    throws: u8,
) -> Result<()> {
    let taken = book.surveys()?.iter().any(|one| one.name.eq_ignore_ascii_case(name.trim()));
    if taken {
        return Err(Error::input(format!("there is a survey `{}` already", name.trim()))
            .hint("choose another name, such as the year and the season"));
    }
    let scale = scale_of(book, scale)?;
    let stored = book.scales()?.iter().any(|one| one.key == scale.key);
    let mut survey = Survey::new(SurveyId(book.new_id()), name, &scale.key)
        .map_err(|error| Error::input(error.to_string()))?;
    survey.throws_per_site = throws.clamp(1, 9);
    scale_reason.trim().clone_into(&mut survey.scale_reason);
    crate::scales::refuse_silent_change(book, &survey, &scale)?;
    book.transact(&format!("began the survey {}", survey.name), |writer| {
        if !stored {
            writer.put_scale(&scale)?;
        }
        writer.put_survey(&survey)
    })?;
    Ok(())
}

/// Adds a site known by its code alone.
///
/// # Errors
/// When the survey is sealed, or the code is no code or taken.
pub fn add_site(book: &mut LakeBook, survey: &str, code: &str) -> Result<()> {
    let survey = book.survey_by_name(survey)?;
    if let Some(seal) = &survey.seal {
        return Err(Error::input(format!("survey `{}` is sealed, by {}", survey.name, seal.by))
            .hint("a sealed survey changes only by amendment"));
    }
    let code = Code::new(code).map_err(|error| {
        Error::input(format!("`{}` is no code of a site: {error}", code.trim()))
            .hint("write it as on the sheet, such as `14` or `W3-2`")
    })?;
    let sites = book.record(survey.id)?.sites;
    if sites.iter().any(|site| site.code.as_str().eq_ignore_ascii_case(code.as_str())) {
        return Err(Error::input(format!("site `{code}` is there already"))
            .hint("write in its row, or give this one another code"));
    }
    let site = Site {
        id: SiteId(book.new_id()),
        survey: survey.id,
        code,
        planned: None,
        map_depth: None,
        zone: None,
        sub_area: None,
        landmark: String::new(),
        rank: sites.iter().map(|site| site.rank + 1).max().unwrap_or(0),
        inclusion_probability: None,
        spare: false,
        dropped: None,
    };
    let note = format!("site {} of {} added", site.code, survey.name);
    Ok(book.transact(&note, |writer| writer.put_site(&site))?)
}
