//! A desk for one book, answered from here.

use serde_json::Value;
use server::{
    DeskError, Download, EntryDesk, ExportFormat, FindingsDesk, LakeDesk, Look, OutwardDesk,
    PlanDesk, PrintKind, RecordDesk,
};
use std::collections::BTreeMap;
use workflow::route::RouteWords;
use workflow::views::{
    BookView, CheckView, CommunityView, CompareView, CountView, DaylightView, DistanceBandView,
    DistanceView, FindingsView, FrequencyView, LakeView, MapView, MergeView, RouteView,
    SurveyBriefRef, SurveySitesView, SurveyView, TaxonChangeView,
};

/// A book with one survey, `June 2026`, whose lake cannot be read.
pub(crate) struct OneSurvey;

fn frequency(k: usize, n: usize) -> FrequencyView {
    FrequencyView { k, n, p: Some(k as f64 / n as f64), se: None, low: None, high: None }
}

impl OneSurvey {
    fn known(survey: &str) -> Result<(), DeskError> {
        if survey == "June 2026" {
            return Ok(());
        }
        Err(DeskError::not_found(format!("no survey `{survey}`"), "this book holds `June 2026`"))
    }
}

impl LakeDesk for OneSurvey {
    fn book(&self) -> Result<BookView, DeskError> {
        Ok(BookView {
            name: "Lake Tamarin".into(),
            units: "us".into(),
            region: String::new(),
            county: String::new(),
            water_body_number: String::new(),
            file: "tamarin.gpkg".into(),
            depth_datum: "full pool".into(),
            last_write: None,
            surveys: Vec::new(),
            version: "0.1.0".into(),
        })
    }

    fn lake(&self, _ask: &workflow::LakeAsk) -> Result<LakeView, DeskError> {
        Err(DeskError::internal("disk I/O error at /home/chair/secret/tamarin.gpkg"))
    }

    fn map(&self, _ask: &workflow::LakeAsk) -> Result<MapView, DeskError> {
        let hint = "add it with `quillwort add BOOK outline FILE`";
        Err(DeskError::not_found("the book has no outline yet", hint))
    }

    /// Says back what it was asked.
    fn distances(&self, ask: &workflow::LakeAsk) -> Result<DistanceView, DeskError> {
        if ask.rule.as_deref() == Some("cubes") {
            return Err(DeskError::bad_request("the rule `cubes` is unknown", "leave it out"));
        }
        let lengths = [ask.level, ask.min_depth, ask.max_depth, ask.secchi];
        let bands = lengths.into_iter().flatten().map(|length| DistanceBandView {
            from_m: length.metres(),
            to_m: None,
            geometry: Value::Null,
        });
        Ok(DistanceView { beyond_m: f64::from(ask.year.unwrap_or(0)), bands: bands.collect() })
    }
}

impl EntryDesk for OneSurvey {
    fn merge(&self, name: &str, bytes: &[u8], by: &str) -> Result<MergeView, DeskError> {
        if bytes != b"a copy" {
            let message = format!("`{name}` is not a copy of this book");
            return Err(DeskError::bad_request(message, "record its surveys from an export"));
        }
        Ok(MergeView { taken: by.len(), conflicts: 1, renamed: Vec::new() })
    }
}

impl server::PapersDesk for OneSurvey {}
impl PlanDesk for OneSurvey {
    fn route(&self, words: &RouteWords) -> Result<RouteView, DeskError> {
        Self::known(if words.survey.is_empty() { "June 2026" } else { &words.survey })?;
        Ok(RouteView {
            survey: "June 2026".into(),
            launch: "Launch".into(),
            boats: Vec::new(),
            length_m: 0.0,
            fits: true,
            daylight: DaylightView { rise: None, set: None },
            over: Vec::new(),
            sentence: format!("{} boats", words.boats.unwrap_or(1)),
            seed: 1,
            warnings: Vec::new(),
        })
    }
}

impl RecordDesk for OneSurvey {
    fn surveys(&self) -> Result<Vec<SurveyView>, DeskError> {
        Ok(Vec::new())
    }

    fn sites(&self, survey: &str) -> Result<SurveySitesView, DeskError> {
        Self::known(survey)?;
        Err(DeskError::bad_request("no sites are laid", ""))
    }

    fn check(&self, survey: &str) -> Result<Vec<CheckView>, DeskError> {
        Self::known(survey)?;
        Ok(vec![CheckView {
            id: "1".into(),
            severity: "doubt".into(),
            kind: "missing-depth".into(),
            place: "site 14".into(),
            message: "no depth".into(),
            why: "it matters".into(),
            remedy: "write it down".into(),
            settled: false,
            reason: None,
            settled_by: None,
        }])
    }
}

impl FindingsDesk for OneSurvey {
    fn findings(&self, survey: &str) -> Result<FindingsView, DeskError> {
        Self::known(survey)?;
        panic!("a fault in the count");
    }

    fn compare(&self, from: &str, to: &str) -> Result<CompareView, DeskError> {
        if from == to {
            return Err(DeskError::bad_request("a survey is not compared with itself", ""));
        }
        let brief = |survey: &str| SurveyBriefRef {
            survey: survey.into(),
            start: None,
            scale: "presence".into(),
            sampled: 89,
        };
        let count =
            |f: FrequencyView| CountView { k: f.k, n: f.n, p: f.p, low: f.low, high: f.high };
        Ok(CompareView {
            from: brief(from),
            to: brief(to),
            warnings: Vec::new(),
            design: "paired".into(),
            pairs: Some(89),
            places_bare: Some(2),
            shared_depth_m: None,
            any: TaxonChangeView {
                names: None,
                code: "any".into(),
                scientific_name: String::new(),
                common_name: String::new(),
                origin: "unknown".into(),
                from: count(frequency(80, 89)),
                to: count(frequency(86, 89)),
                difference: None,
                lost: None,
                gained: None,
                test: "none".into(),
                p: None,
                p_adjusted: None,
                detectable: None,
                verdict: "cannot tell".into(),
            },
            taxa: Vec::new(),
            sentences: Vec::new(),
            community: CommunityView {
                bray_curtis: None,
                jaccard: None,
                r: None,
                p: None,
                permutations: 0,
                seed: 1,
                within_pairs: true,
                rated: false,
                sites: [89, 89],
                why_not: "all sites are alike".into(),
            },
            richness: None,
            ratings: Vec::new(),
            noise: Vec::new(),
            noise_source: String::new(),
            places: Vec::new(),
            by_zone: Vec::new(),
            methods: BTreeMap::new(),
        })
    }
}

impl OutwardDesk for OneSurvey {
    fn print(
        &self,
        survey: Option<&str>,
        kind: PrintKind,
        _look: Look,
    ) -> Result<Download, DeskError> {
        let survey = survey.unwrap_or("June 2026");
        Self::known(survey)?;
        Ok(Download {
            file_name: format!("{survey} {}.pdf", kind.key()),
            content_type: "application/pdf".into(),
            bytes: b"%PDF-1.7".to_vec(),
        })
    }

    fn export(&self, survey: &str, format: ExportFormat) -> Result<Download, DeskError> {
        Self::known(survey)?;
        Ok(Download {
            file_name: format!("Seehöhe.{}", format.key()),
            content_type: "text/csv; charset=utf-8".into(),
            bytes: b"site\n".to_vec(),
        })
    }
}
