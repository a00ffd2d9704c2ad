use super::{BookDesk, desk_error};
use server::{DeskError, PapersDesk, RecordFile, RecordedFile};
use std::path::{Path, PathBuf};
use workflow::record::RecordRequest;
use workflow::views::{SaveScale, ScaleStandView, ScalesView, SealView, VerifyView};
use workflow::{Error, record, scales, surveys};

/// A folder for one upload, gone afterwards.
pub(super) struct Scratch(PathBuf);

impl Scratch {
    pub(super) fn new() -> std::io::Result<Self> {
        let id = crate::ports::world().random();
        let folder = std::env::temp_dir().join(format!("quillwort-{id:032x}"));
        std::fs::create_dir(&folder)?;
        Ok(Self(folder))
    }

    pub(super) fn path(&self, name: &str) -> PathBuf {
        self.0.join(name)
    }

    pub(super) fn write(&self, name: &str, bytes: &[u8]) -> std::io::Result<PathBuf> {
        let path = self.0.join(name);
        std::fs::write(&path, bytes)?;
        Ok(path)
    }
}

impl Drop for Scratch {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.0);
    }
}

pub(super) fn no_scratch(error: &std::io::Error) -> DeskError {
    DeskError::internal(format!("the folder for temporary files takes no file: {error}"))
}

/// The last part of a name, so that no name leads out of the scratch folder.
pub(super) fn plain_name(name: &str) -> &str {
    let last = name.rsplit(['/', '\\']).next().unwrap_or_default().trim();
    if last.is_empty() || last.starts_with('.') { "record.csv" } else { last }
}

fn request(
    survey: &str,
    file: &RecordFile,
    columns: Option<&Path>,
) -> workflow::Result<RecordRequest> {
    let unit =
        file.unit.as_deref().map(str::parse).transpose().map_err(|error| {
            Error::input(format!("field `unit`: {error}")).hint("write ft or m")
        })?;
    let date =
        file.date.as_deref().map(str::parse).transpose().map_err(|_error| {
            Error::input("field `date` is no day").hint("write it as 2026-07-14")
        })?;
    Ok(RecordRequest {
        survey: survey.to_owned(),
        columns: columns.map(Path::to_owned),
        sheet: file.sheet.clone(),
        preview: file.preview,
        scale: file.scale.clone(),
        scale_reason: file.scale_reason.clone(),
        guess_columns: file.guess_columns,
        new_scale: file.new_scale,
        new_taxa: file.new_taxa,
        unit,
        date,
        ..RecordRequest::default()
    })
}

impl PapersDesk for BookDesk {
    fn begin_survey(&self, name: &str, save: &SaveScale, throws: u8) -> Result<(), DeskError> {
        self.change_by(&save.by, |book| {
            record::begin_survey(book, name, &save.scale, &save.reason, throws)
        })
    }

    fn scales(&self) -> Result<ScalesView, DeskError> {
        self.answer(scales::scales)
    }

    fn scale(&self, survey: &str) -> Result<ScaleStandView, DeskError> {
        self.answer(|book| scales::stand(book, survey))
    }

    fn change_scale(&self, survey: &str, save: &SaveScale) -> Result<ScaleStandView, DeskError> {
        self.change_by(&save.by, |book| scales::change(book, survey, &save.scale, &save.reason))
    }

    fn add_site(&self, survey: &str, code: &str, by: &str) -> Result<(), DeskError> {
        self.change_by(by, |book| record::add_site(book, survey, code))
    }

    fn record_file(&self, survey: &str, file: &RecordFile) -> Result<RecordedFile, DeskError> {
        let scratch = Scratch::new().map_err(|error| no_scratch(&error))?;
        let write = |name: &str, bytes: &[u8]| {
            scratch.write(name, bytes).map_err(|error| no_scratch(&error))
        };
        let path = write(plain_name(&file.name), &file.bytes)?;
        let columns = if file.columns.trim().is_empty() {
            None
        } else {
            Some(write("columns", file.columns.as_bytes())?)
        };
        let saved = scratch.0.join("understood");
        let mut asked = request(survey, file, columns.as_deref()).map_err(desk_error)?;
        asked.save_columns = Some(saved.clone());
        let result = self.change_by(&file.by, |book| {
            if file.preview {
                record::look(book, &path, &asked)
            } else {
                record::record(book, &path, &asked)
            }
        })?;
        let columns = std::fs::read_to_string(&saved).unwrap_or_default();
        Ok(RecordedFile { result, columns })
    }

    fn seal(&self, survey: &str, by: &str, despite: Option<&str>) -> Result<SealView, DeskError> {
        if by.is_empty() {
            return Err(DeskError::bad_request(
                "nobody is named as closing the record",
                "write your name",
            ));
        }
        self.change_by(by, |book| surveys::seal(book, survey, by, despite))
    }

    fn verify(&self) -> Result<VerifyView, DeskError> {
        self.answer(surveys::verify)
    }
}

#[cfg(test)]
mod tests {
    use super::plain_name;

    #[test]
    fn no_name_of_a_file_leads_out_of_the_folder_it_is_put_in() {
        for (given, kept) in [
            ("july.csv", "july.csv"),
            ("../../etc/passwd", "passwd"),
            ("C:\\surveys\\july.xlsx", "july.xlsx"),
            ("..", "record.csv"),
            ("", "record.csv"),
        ] {
            assert_eq!(plain_name(given), kept, "{given}");
        }
    }
}
