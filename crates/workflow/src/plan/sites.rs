//! Moving, dropping and adding single sites of a plan. Each change has a reason and a name, which are kept.

use super::stored::{limits, planned};
use super::{depths, landmark_near, landmarks, lay, zone_areas};
use crate::error::{Error, Result};
use crate::ground::Ground;
use crate::surveys::record_of;
use crate::views::PlanView;
use geo_types::{Coord, coord};
use lakebook::LakeBook;
use serde::{Deserialize, Serialize};
use survey::{Code, Site, SiteId, SurveyRecord};
use units::{LonLat, Metres};
use utoipa::ToSchema;

/// A change to a planned site, as asked for by a screen.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, Serialize, ToSchema)]
#[serde(default, deny_unknown_fields)]
pub struct SiteAsk {
    /// `move`, `drop`, `restore` or `add`.
    pub action: String,
    /// Longitude of the place to move to or to add; with `lat`, or give `x` and `y`.
    pub lon: Option<f64>,
    /// Latitude.
    pub lat: Option<f64>,
    /// East in the working system, as on the map.
    pub x: Option<f64>,
    /// North in the working system.
    pub y: Option<f64>,
    /// For `drop`: the first spare takes its place.
    pub use_spare: bool,
    /// Why; kept with the change.
    pub reason: String,
    /// Who decided; kept with the change.
    pub by: String,
}

impl SiteAsk {
    /// What is asked of a site, in the program's own words. The code is not looked at when a site is added with the
    /// code `new`: it gets the next number.
    ///
    /// # Errors
    /// An action nobody knows, a place that is none.
    pub fn change(&self, ground: &Ground) -> Result<SiteChange> {
        Ok(match self.action.as_str() {
            "move" => SiteChange::Move { to: self.place(ground)? },
            "drop" => SiteChange::Drop { use_spare: self.use_spare },
            "restore" => SiteChange::Restore,
            "add" => SiteChange::Add { at: self.place(ground)? },
            other => {
                return Err(Error::input(format!("a site cannot be changed by `{other}`"))
                    .hint("choose move, drop, restore or add"));
            }
        })
    }

    fn place(&self, ground: &Ground) -> Result<LonLat> {
        match (self.lon, self.lat, self.x, self.y) {
            (Some(lon), Some(lat), None, None) => LonLat::new(lon, lat).map_err(|error| {
                Error::input(error.to_string()).hint("give degrees, east and north positive")
            }),
            (None, None, Some(x), Some(y)) => ground.unproject(coord! {x: x, y: y}),
            _ => Err(Error::input("the place of the site is missing")
                .hint("give its longitude and latitude, or both coordinates of the map")),
        }
    }
}

/// A change to a planned site.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SiteChange {
    /// To another place.
    Move {
        /// Where to.
        to: LonLat,
    },
    /// Out of the plan; it stays on record, and its code is never used again.
    Drop {
        /// The first spare takes its place.
        use_spare: bool,
    },
    /// Back into the plan.
    Restore,
    /// A site more.
    Add {
        /// Where.
        at: LonLat,
    },
}

/// Changes a planned site and gives the plan as it then stands.
///
/// # Errors
/// A sealed survey, a visited site, a place on land, a code nobody knows or that is taken, no reason, no name.
pub fn change_site(
    book: &mut LakeBook,
    ground: &Ground,
    survey: &str,
    code: &str,
    change: SiteChange,
    reason: &str,
    by: &str,
) -> Result<PlanView> {
    let record = record_of(book, survey)?;
    if let Some(seal) = &record.survey.seal {
        return Err(Error::input(format!(
            "survey `{}` is sealed, by {} at {}",
            record.survey.name, seal.by, seal.at
        ))
        .hint("a sealed survey keeps its sites; plan a survey of another name"));
    }
    let (reason, by) = (reason.trim(), by.trim());
    if reason.is_empty() || by.is_empty() {
        return Err(Error::input("a site is changed with a reason and a name").hint(
            "say why with `--why`, such as `a dock stands there`, and who decided with `--by`",
        ));
    }
    let mut edit = Edit { ground, record: &record, warnings: Vec::new() };
    let (sites, done) = match change {
        SiteChange::Move { to } => edit.moved(book, code, to)?,
        SiteChange::Drop { use_spare } => edit.dropped(code, use_spare, reason, by)?,
        SiteChange::Restore => edit.restored(code)?,
        SiteChange::Add { at } => edit.added(book, code, at)?,
    };
    let warnings = edit.warnings;
    let note = format!("{done} by {by}: {reason}");
    book.transact(&note, |writer| sites.iter().try_for_each(|site| writer.put_site(site)))?;
    let mut view = planned(book, ground, survey)?;
    view.warnings.extend(warnings);
    Ok(view)
}

struct Edit<'e> {
    ground: &'e Ground,
    record: &'e SurveyRecord,
    warnings: Vec<String>,
}

/// The sites to be written, and what was done, in words.
type Done = (Vec<Site>, String);

impl Edit<'_> {
    /// The site of a code, as long as nobody was there.
    fn site(&self, code: &str) -> Result<Site> {
        let name = &self.record.survey.name;
        let site = self
            .record
            .sites
            .iter()
            .find(|site| site.code.as_str().eq_ignore_ascii_case(code.trim()))
            .ok_or_else(|| {
                Error::not_found(format!("survey `{name}` has no site `{}`", code.trim()))
                    .hint("the site map and the sheets show the codes")
            })?;
        if self.record.visits.iter().any(|visit| visit.site == site.id) {
            return Err(Error::input(format!("site `{}` of {name} is visited", site.code)).hint(
                "it stays where it was planned; where the boat really was belongs to its visit",
            ));
        }
        Ok(site.clone())
    }

    fn standing(&self, code: &str) -> Result<Site> {
        let site = self.site(code)?;
        if let Some(why) = &site.dropped {
            return Err(Error::input(format!("site `{}` was dropped: {why}", site.code))
                .hint("restore it first, or add a site of a new number"));
        }
        Ok(site)
    }

    fn moved(&mut self, book: &LakeBook, code: &str, to: LonLat) -> Result<Done> {
        let before = self.standing(code)?;
        let at = self.ground.project(to)?;
        let site = self.put_at(book, before.clone(), to, at)?;
        let words = match before.planned {
            Some(place) => {
                let from = self.ground.project(place)?;
                let far = Metres::new((at.x - from.x).hypot(at.y - from.y));
                format!(" moved {}", crate::ground::ground_words(self.ground.lake.units, far))
            }
            None => " placed".to_owned(),
        };
        if site.inclusion_probability.is_some() {
            self.warnings.push(format!(
                "site `{}` keeps the chance it was drawn with; estimates weigh it as if it lay where it was drawn",
                site.code
            ));
        }
        let done = format!("site {} of {}{words}", site.code, self.record.survey.name);
        Ok((vec![site], done))
    }

    fn dropped(&self, code: &str, use_spare: bool, reason: &str, by: &str) -> Result<Done> {
        let site = self.standing(code)?;
        let name = &self.record.survey.name;
        let mut done = format!("site {} of {name} dropped", site.code);
        let mut sites = vec![Site { dropped: Some(format!("{reason} ({by})")), ..site.clone() }];
        if use_spare && site.spare {
            return Err(Error::input(format!("site `{}` is itself a spare", site.code))
                .hint("drop it without another in its place"));
        }
        if use_spare {
            let visited =
                |site: &Site| self.record.visits.iter().any(|visit| visit.site == site.id);
            let spare = self
                .record
                .sites
                .iter()
                .filter(|one| one.spare && one.dropped.is_none() && !visited(one))
                .min_by_key(|one| one.rank)
                .ok_or_else(|| {
                    Error::input(format!("survey `{name}` has no spare left"))
                        .hint("drop the site without a spare, or add a site by hand")
                })?;
            done.push_str(&format!(", spare {} in its place,", spare.code));
            sites.push(Site { spare: false, ..spare.clone() });
        }
        Ok((sites, done))
    }

    fn restored(&self, code: &str) -> Result<Done> {
        let site = self.site(code)?;
        if site.dropped.is_none() {
            return Err(Error::input(format!("site `{}` is not dropped", site.code))
                .hint("there is nothing to restore"));
        }
        let done = format!("site {} of {} restored", site.code, self.record.survey.name);
        Ok((vec![Site { dropped: None, ..site }], done))
    }

    fn added(&mut self, book: &LakeBook, code: &str, at: LonLat) -> Result<Done> {
        let name = &self.record.survey.name;
        let code = match code.trim() {
            "" | "new" => self.next_code()?,
            text => Code::new(text).map_err(|error| Error::input(error.to_string()))?,
        };
        let same = |site: &&Site| site.code.as_str().eq_ignore_ascii_case(code.as_str());
        if let Some(taken) = self.record.sites.iter().find(same) {
            let what = if taken.dropped.is_some() { "was dropped" } else { "is in the plan" };
            return Err(Error::input(format!("site `{code}` of {name} {what}"))
                .hint("a number is never used again; take the next one"));
        }
        let rank = self.record.sites.iter().map(|site| site.rank).max();
        let site = Site {
            id: SiteId(book.new_id()),
            survey: self.record.survey.id,
            code,
            planned: None,
            map_depth: None,
            zone: None,
            sub_area: None,
            landmark: String::new(),
            rank: rank.map_or(0, |rank| rank.saturating_add(1)),
            inclusion_probability: None,
            spare: false,
            dropped: None,
        };
        if self.record.sites.iter().any(|one| one.inclusion_probability.is_some()) {
            self.warnings.push(format!(
                "site `{}` is chosen by hand: what it shows belongs to no probability sample",
                site.code
            ));
        }
        let place = self.ground.project(at)?;
        let site = self.put_at(book, site, at, place)?;
        let done = format!("site {} of {} added", site.code, self.record.survey.name);
        Ok((vec![site], done))
    }

    /// The number after the highest one the survey ever had.
    fn next_code(&self) -> Result<Code> {
        let numbers =
            self.record.sites.iter().filter_map(|site| site.code.as_str().parse::<u32>().ok());
        let next = numbers.max().unwrap_or(0).saturating_add(1);
        Code::new(&next.to_string()).map_err(|error| Error::fault(error.to_string()))
    }

    /// The site at a place, with what the map says there.
    fn put_at(&mut self, book: &LakeBook, site: Site, to: LonLat, at: Coord<f64>) -> Result<Site> {
        let outline = self.ground.need_outline()?;
        if !outline.contains(at) {
            return Err(Error::input(format!("site `{}` would lie on land", site.code))
                .hint("choose a place in the water of the lake"));
        }
        let zones = zone_areas(self.ground)?;
        let depth = depths(self.ground);
        let limits = limits(&self.record.survey);
        if let Ok(frame) = lay::frame(book, self.ground, &zones, &depth, &limits)
            && let Err(why) = frame.place(at.x, at.y)
        {
            self.warnings
                .push(format!("site `{}` lies {why}, outside the limits of the plan", site.code));
        }
        let nearby = landmark_near(&landmarks(book, self.ground)?, at.x, at.y);
        let model = self.ground.model.as_ref();
        Ok(Site {
            planned: Some(to),
            map_depth: model.and_then(|model| model.depth_at(at)),
            zone: self.ground.zone_at(to, None).map(|zone| zone.code.clone()),
            landmark: nearby,
            ..site
        })
    }
}
