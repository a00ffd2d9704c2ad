//! The cover: the question, a summary in plain words, the lake at a glance, the commonest plants.

use super::blocks::{Block, Body, Cell, Column, Note, Pictures, Section, Table};
use super::input::{Frequency, Origin, ReportSite, SiteOutcome, SurveyReport, TaxonFinding};
use super::text::{Line, interval, of_sites, percent, whole};
use super::{BODY_PX, Look};
use crate::draw::{
    DotKind, Interval, LegendRow, MapData, MapStyle, Mark, SiteMark, dot_axis, dot_row, draw_map,
    share_axis,
};
use crate::error::PrintError;
use crate::words;
use units::{decimals, percent_whole};

/// Species in the table on the cover.
const MOST_ROWS: usize = 10;

/// The name people use: the common one, else the Latin one in italics.
pub(super) fn name(taxon: &TaxonFinding) -> Line {
    if taxon.common_name.is_empty() {
        Line::new().italic(&taxon.scientific_name)
    } else {
        Line::new().plain(&taxon.common_name)
    }
}

pub(super) fn plain_name(taxon: &TaxonFinding) -> &str {
    if taxon.common_name.is_empty() { &taxon.scientific_name } else { &taxon.common_name }
}

pub(super) const fn dot_kind(origin: Origin) -> DotKind {
    match origin {
        Origin::Native => DotKind::Disc,
        Origin::Introduced => DotKind::Diamond,
        Origin::Unsettled => DotKind::Ring,
    }
}

pub(super) fn drawn(frequency: Option<&Frequency>) -> Option<Interval> {
    frequency.map(|f| Interval { value: f.p, low: f.low, high: f.high })
}

/// Kinds of plant on the rake at a site.
fn kinds(site: &ReportSite) -> u32 {
    let on_rake =
        site.found.iter().filter(|seen| matches!(seen.how, super::HowSeen::Rake { .. })).count();
    on_rake as u32
}

pub(super) fn section(
    report: &SurveyReport,
    look: &Look<'_>,
    pictures: &mut Pictures,
) -> Result<Section, PrintError> {
    let question = if report.question.is_empty() {
        format!("What lives in {}?", report.lake.name)
    } else {
        report.question.clone()
    };
    let (paragraphs, mut notes) = summary(report, look);
    let summary = Block::new("", Body::Text { paragraphs, large: true });
    let mut map = kinds_map(report, look, pictures)?;
    notes.append(&mut map.notes);
    let top = Block::new("", Body::Stack(vec![summary, map])).notes(notes);
    let mut blocks = vec![top];
    if report.taxa.iter().any(|taxon| taxon.sites > 0) {
        blocks.push(commonest(report, look, pictures));
    }
    Ok(Section { name: "cover", question, answer: Line::new(), blocks })
}

/// Notes with their numbers, in the order of their sentences.
#[derive(Default)]
struct Keyed(Vec<Note>);

impl Keyed {
    fn add(&mut self, text: impl Into<Line>) -> usize {
        let key = self.0.len() + 1;
        self.0.push(Note::keyed(key, text.into()));
        key
    }
}

fn summary(report: &SurveyReport, look: &Look<'_>) -> (Vec<Line>, Vec<Note>) {
    let mut notes = Keyed::default();
    let first =
        Line::new().then(how_many(report, look, &mut notes)).then(how_rich(report, &mut notes));
    let second = not_native(report, &mut notes);
    (vec![first, second], notes.0)
}

/// Sites, plants, depth.
fn how_many(report: &SurveyReport, look: &Look<'_>, notes: &mut Keyed) -> Line {
    let counts = &report.counts;
    let missed: Vec<String> = counts
        .not_sampled
        .iter()
        .filter(|reason| reason.1 > 0)
        .map(|(reason, n)| format!("{} {reason}", whole(*n)))
        .collect();
    let unvisited = counts.planned.saturating_sub(counts.visited);
    let mut about = format!("of {} planned", whole(counts.planned));
    if !missed.is_empty() {
        about = format!("{about}; not sampled: {}", words::list(&missed));
    }
    if unvisited > 0 {
        about = format!("{about}; {} not visited", whole(unvisited));
    }
    let throws = words::count(u64::from(report.method.throws), "rake throw", "rake throws");
    let key = notes.add(
        Line::new()
            .bold(format!("n = {}", whole(counts.sampled)))
            .plain(format!(" {about}. {throws} a site.")),
    );
    let line = Line::new()
        .plain("We raked ")
        .bold(words::count(counts.sampled, "site", "sites"))
        .plain(" and found plants at ")
        .bold(if counts.vegetated == 0 { "none".to_owned() } else { whole(counts.vegetated) })
        .plain(" of them.")
        .key(key);
    match report.max_plant_depth {
        Some(depth) => {
            line.plain(format!(" Plants reach down to {}.", words::depth(depth, look.units)))
        }
        None => line,
    }
}

/// Kinds of plant, the commonest, kinds a site.
fn how_rich(report: &SurveyReport, notes: &mut Keyed) -> Line {
    let mut line = Line::new();
    if report.richness.rake > 0 {
        let is_native = |taxon: &&TaxonFinding| taxon.origin == Origin::Native && taxon.sites > 0;
        let native = report.taxa.iter().filter(is_native).count() as u64;
        let key = notes.add(format!(
            "{} on the rake; {} with those only seen from the boat, {} with those from the shore.",
            whole(report.richness.rake),
            whole(report.richness.with_visuals),
            whole(report.richness.with_shoreline)
        ));
        line = line
            .plain(" The rake brought up ")
            .bold(words::count(report.richness.rake, "kind", "kinds"))
            .plain(format!(" of plant, {} of them native.", whole(native)))
            .key(key);
    }
    let commonest = report.taxa.first().and_then(|taxon| Some((taxon, taxon.all.as_ref()?)));
    if let Some((taxon, frequency)) = commonest.filter(|(_, frequency)| frequency.k > 0) {
        let key = notes.add(format!(
            "{}. Interval: 95 %, Wilson. Divided by all sites sampled.",
            words::sentence(&of_sites(frequency))
        ));
        line = line
            .plain(format!(" {} is the commonest, at ", words::sentence(plain_name(taxon))))
            .plain(format!("{} of the sites.", percent(frequency.p)))
            .key(key);
    }
    if let Some(mean) = report.species_per_site.vegetated {
        let error =
            mean.se.map_or_else(String::new, |se| format!(", standard error {}", decimals(se, 1)));
        let sites = words::count(mean.n, "site", "sites");
        let key = notes.add(format!("Mean of the {sites} with plants{error}."));
        let kinds = decimals(mean.mean, 1);
        line = line.plain(format!(" A site with plants holds {kinds} kinds on average.")).key(key);
    }
    line
}

fn not_native(report: &SurveyReport, notes: &mut Keyed) -> Line {
    let found: Vec<&TaxonFinding> = report
        .taxa
        .iter()
        .filter(|taxon| taxon.origin == Origin::Introduced && taxon.sites > 0)
        .collect();
    if found.is_empty() {
        let key = notes
            .add("Not found is not absent: a plant at few places can be missed by every throw.");
        return Line::new().plain("No introduced plant came up.").key(key);
    }
    let mut line = Line::new().plain("Not native: ");
    for (index, taxon) in found.iter().enumerate() {
        let joint = match (index, found.len() - index) {
            (0, _) => "",
            (_, 1) => " and ",
            _ => ", ",
        };
        let share = taxon.all.as_ref().map_or_else(String::new, |f| {
            format!(" at {} of {} sites ({})", whole(f.k), whole(f.n), percent(f.p))
        });
        line = line.plain(joint).bold(plain_name(taxon)).plain(share);
    }
    line.plain(".")
}

fn kinds_map(
    report: &SurveyReport,
    look: &Look<'_>,
    pictures: &mut Pictures,
) -> Result<Block, PrintError> {
    let sites: Vec<SiteMark> = report
        .sites
        .iter()
        .filter_map(|site| {
            let mark = match &site.outcome {
                SiteOutcome::Sampled { with_plants: false } => Mark::NotFound,
                // plants that nobody named are at least one kind
                SiteOutcome::Sampled { with_plants: true } => Mark::Count(kinds(site).max(1)),
                SiteOutcome::NotSampled(_) => Mark::NotReached,
                SiteOutcome::NotVisited => return None,
            };
            Some(SiteMark { code: site.code.clone(), x: site.x, y: site.y, mark })
        })
        .collect();
    let most = report.sites.iter().map(kinds).max().unwrap_or(0);
    let mut shown: Vec<u32> = (1..=5).map(|part| (most * part).div_ceil(5)).collect();
    shown.dedup();
    let mut items: Vec<(Mark, String)> = shown
        .into_iter()
        .filter(|count| *count > 0)
        .map(|count| (Mark::Count(count), count.to_string()))
        .collect();
    items.push((Mark::NotFound, "none found".to_owned()));
    if report.counts.not_sampled.iter().any(|reason| reason.1 > 0) {
        items.push((Mark::NotReached, "not sampled".to_owned()));
    }
    let map = MapData { sites, treated: Vec::new(), sub_areas: Vec::new(), ..report.map.clone() };
    let map = MapData { grid: crate::draw::GridReference::None, deepest: None, ..map };
    let style = MapStyle {
        legend: vec![LegendRow::Marks { title: "kinds at a site".to_owned(), items }],
        description: format!("Map of {}: how many kinds of plant at each site", report.lake.name),
        ..MapStyle::new(look.palette, look.units, look.body_px(), 330.0)
    };
    let picture = pictures.add(draw_map(&map, &style, look.fonts)?);
    let mut notes = vec![Note::on(
        "On the map",
        "A ring is a site where nothing came up; a cross, one where no rake was thrown.",
    )];
    if report.map.plant_limit.is_some() {
        notes.push(Note::on("Stronger line", "the limit down to which sites were laid."));
    }
    Ok(Block::new("How many kinds of plant at each site", Body::Picture(picture)).notes(notes))
}

fn commonest(report: &SurveyReport, look: &Look<'_>, pictures: &mut Pictures) -> Block {
    let found: Vec<&TaxonFinding> = report.taxa.iter().filter(|taxon| taxon.sites > 0).collect();
    let n_introduced = found.iter().filter(|taxon| taxon.origin == Origin::Introduced).count();
    let mut room = MOST_ROWS.saturating_sub(n_introduced.min(MOST_ROWS / 2));
    let mut rows: Vec<&TaxonFinding> = Vec::new();
    for taxon in &found {
        if taxon.origin == Origin::Introduced {
            rows.push(taxon);
        } else if room > 0 {
            rows.push(taxon);
            room -= 1;
        }
    }
    rows.truncate(MOST_ROWS + 2);
    let (table, _) = frequency_table(&rows, look, pictures, 132.0, report.counts.sampled);
    let mut notes = vec![Note::on(
        "Intervals",
        Line::new()
            .plain(format!(
                "Wilson, 95 %. Divided by all {} sampled. Open diamond: introduced. All species: page\u{a0}",
                words::count(report.counts.sampled, "site", "sites")
            ))
            .page_of("species")
            .plain("."),
    )];
    if !report.identification.is_empty() {
        notes.push(Note::on("Named by", report.identification.as_str()));
    }
    let crew: Vec<String> = report.crew.iter().map(|member| member.name.clone()).collect();
    if !crew.is_empty() {
        notes.push(Note::on("Crew", words::stop(&crew.join(", "))));
    }
    notes.push(Note::on("Written", format!("{}.", words::date(look.printed_on))));
    Block::new("", Body::Table(table)).notes(notes)
}

/// A table of species with sites, dots, percent and interval. Gives the end of the axis too.
pub(super) fn frequency_table(
    rows: &[&TaxonFinding],
    look: &Look<'_>,
    pictures: &mut Pictures,
    plot_points: f64,
    n: u64,
) -> (Table, f64) {
    let highest =
        rows.iter().filter_map(|taxon| taxon.all.as_ref()).map(|f| f.high).fold(0.0, f64::max);
    let axis = share_axis(highest);
    let plot_px = plot_points / 0.75;
    let head = pictures.add(dot_axis(axis, plot_px, look.palette, look.fonts));
    let mut table = Table::new(vec![
        Column::left("Species"),
        Column::right("sites").wide(32.0),
        Column::left(&format!("% of {}", words::count(n, "site", "sites")))
            .wide(plot_points)
            .under(head),
        Column::right("%").wide(24.0),
        Column::right("interval").wide(44.0),
    ]);
    for taxon in rows {
        let frequency = taxon.all.as_ref();
        let dots = dot_row(
            drawn(frequency),
            dot_kind(taxon.origin),
            axis,
            (plot_px, 21.0),
            look.palette,
            look.fonts,
        );
        let words = if taxon.origin == Origin::Introduced {
            name(taxon).italic(" introduced")
        } else {
            name(taxon)
        };
        table.row(vec![
            words.into(),
            whole(taxon.sites).into(),
            Cell::Picture(pictures.add(dots)),
            frequency.map_or_else(|| "–".to_owned(), |f| percent_whole(f.p)).into(),
            frequency.map_or_else(|| "–".to_owned(), interval).into(),
        ]);
    }
    (table, axis)
}

const _: () = assert!(BODY_PX > 400.0, "the text column holds a table");
