//! Logs of depth sounders, NMEA 0183: depths joined to positions by time.
//!
//! Sentences after IEC 61162-1 (2016): DBT, DBS, DBK and DPT for depth; GGA, RMC and GLL for
//! position; these and ZDA for time. A depth has no time of its own. It was measured between the
//! last time told before it and the next, and its place is interpolated between the fixes around
//! that moment.

mod sentence;

use crate::fault::{Fault, Faults};
use crate::layer::{DepthField, Feature, Layer, LayerCrs, ReadOptions, Skipped, Value, stem};
use crate::text::decode;
use geo_types::Point;
use jiff::ToSpan as _;
use jiff::civil::Date;
use sentence::{Broken, Depth, Fix, From, Says, parse};
use std::collections::BTreeMap;
use units::{LengthUnit, bounds};

/// A depth further from a fix than this, in seconds, has no place.
const FURTHEST: f64 = 10.0;
const DAY: f64 = 86_400.0;

/// A depth and where it stood in the log.
struct Sounding {
    line: usize,
    depth: Depth,
    /// Seconds since midnight of the first day of the log.
    time: Option<f64>,
}

/// The log, sorted by what its lines say.
#[derive(Default)]
struct Log {
    soundings: Vec<Sounding>,
    /// Time and position.
    fixes: Vec<(f64, Fix)>,
    /// A day and the time it was told at.
    day: Option<(Date, f64)>,
    /// The last time told.
    now: Option<f64>,
    /// Where the depths since then begin.
    since: usize,
    skipped: Vec<Skipped>,
    /// Sentences of other kinds, counted.
    others: BTreeMap<String, usize>,
    /// Lines with a checksum that does not fit, or none.
    bad: usize,
    /// Depth sentences without a depth.
    blank_depths: usize,
    /// Positions without a time.
    unplaced_fixes: usize,
}

/// Reads a log into points with `depth` in metres, `time` (UTC) and `measured_from`.
pub(crate) fn read(file: &str, bytes: &[u8], options: &ReadOptions) -> Result<Layer, Faults> {
    let decoded = decode(bytes);
    let end = if decoded.text.contains('\n') { '\n' } else { '\r' };
    let lines: Vec<&str> = decoded.text.split(end).collect();
    let log = Log::read(&lines);
    log.refuse(file)?;
    let mut layer = Layer {
        name: stem(file),
        file: file.to_owned(),
        crs: options.crs.clone().unwrap_or(LayerCrs::Wgs84),
        features: Vec::new(),
        skipped: log.skipped.clone(),
        depth: Some(DepthField {
            name: "depth".to_owned(),
            unit: Some(LengthUnit::Metre),
            upward: false,
        }),
        warnings: decoded.warnings,
    };
    let from = log.usual_origin();
    let mut no_place = 0;
    for sounding in log.soundings.iter().filter(|one| Some(one.depth.from) == from) {
        if let Some(fix) = sounding.time.and_then(|time| log.place(time)) {
            layer.features.push(Feature {
                geometry: Point::new(fix.longitude, fix.latitude).into(),
                attributes: log.attributes(sounding),
                row: sounding.line,
            });
        } else {
            no_place += 1;
            let reason = format!("no position within {FURTHEST} seconds of it");
            layer.skipped.push(Skipped { row: sounding.line, reason });
        }
    }
    layer.skipped.sort_by_key(|skipped| skipped.row);
    if layer.features.is_empty() && no_place > 0 {
        return Err(no_positions(file, no_place).into());
    }
    layer.warnings.extend(log.warnings(from));
    Ok(layer)
}

fn no_positions(file: &str, depths: usize) -> Fault {
    Fault::file(file, "depths with positions of the same time (GGA, RMC or GLL)")
        .found(format!("{depths} depths, none of them near a valid position"))
        .hint(
            "let the sounder log its receiver too, or record the track with a second receiver and \
             give depths as a table with positions",
        )
}

impl Log {
    fn read(lines: &[&str]) -> Self {
        let parsed: Vec<_> = lines.iter().map(|line| parse(line)).collect();
        // a log without any checksum is an old one; a line without, among lines with, was cut
        let checked = parsed.iter().any(Result::is_ok);
        let mut log = Self::default();
        for (index, (line, parsed)) in lines.iter().zip(parsed).enumerate() {
            let number = index + 1;
            match parsed {
                Ok(says) => log.take(number, says),
                Err(_) if line.trim().is_empty() => {}
                Err((Broken::Unchecked, Some(says))) if !checked => log.take(number, says),
                Err((why, _)) => {
                    log.bad += usize::from(why != Broken::NoSentence);
                    let reason = match why {
                        Broken::NoSentence => "no NMEA sentence begins in it",
                        Broken::Checksum => "its checksum does not fit: it came garbled",
                        Broken::Unchecked => "it has no checksum: it was cut off",
                    };
                    log.skipped.push(Skipped { row: number, reason: reason.to_owned() });
                }
            }
        }
        log.spread(None);
        log
    }

    fn take(&mut self, line: usize, says: Says) {
        match says {
            Says::Depth(Some(depth)) if (1e-9..=bounds::DEPTH.most).contains(&depth.metres) => {
                self.soundings.push(Sounding { line, depth, time: None });
            }
            Says::Depth(_) => {
                self.blank_depths += 1;
                let reason = "no depth: the sounder had lost the bottom".to_owned();
                self.skipped.push(Skipped { row: line, reason });
            }
            Says::Time { seconds, day, fix } => {
                let Some(seconds) = seconds else {
                    self.unplaced_fixes += usize::from(fix.is_some());
                    return;
                };
                let time = self.on_its_day(seconds);
                if self.now.is_none_or(|now| (now - time).abs() > 1e-6) {
                    self.spread(Some(time));
                    self.now = Some(time);
                }
                if let (Some(day), None) = (day, self.day) {
                    self.day = Some((day, time));
                }
                self.fixes.extend(fix.map(|fix| (time, fix)));
            }
            Says::Other(kind) => *self.others.entry(kind).or_default() += 1,
        }
    }

    /// Seconds since midnight of the first day: a clock that jumps back half a day passed midnight.
    fn on_its_day(&self, seconds: f64) -> f64 {
        let Some(now) = self.now else { return seconds };
        let day = (now / DAY).floor() * DAY;
        [day - DAY, day, day + DAY]
            .into_iter()
            .map(|day| day + seconds)
            .min_by(|one, other| (one - now).abs().total_cmp(&(other - now).abs()))
            .unwrap_or(seconds)
    }

    /// Gives the depths since the last time told their moments: the first that time, the others
    /// spread evenly up to the next.
    fn spread(&mut self, next: Option<f64>) {
        let waiting = &mut self.soundings[self.since..];
        if let Some(now) = self.now {
            // the same moment may be told in two kinds of sentence
            let mut kinds: BTreeMap<(From, bool), usize> = BTreeMap::new();
            let kind = |depth: &Depth| (depth.from, depth.offset > 0.0);
            for one in waiting.iter() {
                *kinds.entry(kind(&one.depth)).or_default() += 1;
            }
            let step = next.map_or(0.0, |next| next - now);
            let step = if (0.0..=FURTHEST).contains(&step) { step } else { 0.0 };
            let mut seen: BTreeMap<(From, bool), usize> = BTreeMap::new();
            for one in waiting.iter_mut() {
                let place = seen.entry(kind(&one.depth)).or_default();
                let of = kinds.get(&kind(&one.depth)).copied().unwrap_or(1);
                one.time = Some(now + step * *place as f64 / of as f64);
                *place += 1;
            }
        }
        self.since = self.soundings.len();
        if next.is_none() {
            // of several sentences with the same time the first stands
            self.fixes.sort_by(|one, other| one.0.total_cmp(&other.0));
            self.fixes.dedup_by(|later, first| (later.0 - first.0).abs() < 1e-6);
        }
    }

    /// Where the boat was: on the straight line between the fixes around the moment.
    fn place(&self, time: f64) -> Option<Fix> {
        let after = self.fixes.partition_point(|(at, _)| *at < time);
        let before = after.checked_sub(1).and_then(|index| self.fixes.get(index));
        match (before, self.fixes.get(after)) {
            (_, Some((at, fix))) if at - time < 1e-6 => Some(*fix),
            (Some((from, a)), Some((to, b))) if to - from <= FURTHEST => {
                let part = (time - from) / (to - from);
                let between = |a: f64, b: f64| a + (b - a) * part;
                Some(Fix {
                    longitude: between(a.longitude, b.longitude),
                    latitude: between(a.latitude, b.latitude),
                })
            }
            (before, after) => [before, after]
                .into_iter()
                .flatten()
                .map(|(at, fix)| ((at - time).abs(), fix))
                .filter(|(apart, _)| *apart <= FURTHEST / 2.0)
                .min_by(|one, other| one.0.total_cmp(&other.0))
                .map(|(_, fix)| *fix),
        }
    }

    /// One sounder may tell a depth in several sentences. Those from the surface are preferred,
    /// where they are not rare; else those that are most.
    fn usual_origin(&self) -> Option<From> {
        let mut counts: BTreeMap<From, usize> = BTreeMap::new();
        for one in &self.soundings {
            *counts.entry(one.depth.from).or_default() += 1;
        }
        let most = counts.values().copied().max()?;
        counts.into_iter().find(|(_, count)| count * 2 > most).map(|(from, _)| from)
    }

    fn attributes(&self, sounding: &Sounding) -> Vec<(String, Value)> {
        let mut attributes = vec![("depth".to_owned(), Value::Number(sounding.depth.metres))];
        if let Some(time) = sounding.time {
            attributes.push(("time".to_owned(), Value::Text(self.moment(time))));
        }
        let from = Value::Text(sounding.depth.from.word().to_owned());
        attributes.push(("measured_from".to_owned(), from));
        attributes
    }

    /// `2014-04-16T19:57:19Z`, or `19:57:19` where no day is told.
    fn moment(&self, time: f64) -> String {
        let start =
            self.day.and_then(|(day, at)| day.checked_sub(((at / DAY).floor() as i64).days()).ok());
        let milliseconds = (time * 1_000.0).round() as i64;
        let any = Date::new(2_000, 1, 1).unwrap_or_default();
        let moment = start.unwrap_or(any).at(0, 0, 0, 0).checked_add(milliseconds.milliseconds());
        match (moment, start) {
            (Ok(moment), Some(_)) => format!("{moment}Z"),
            (Ok(moment), None) => moment.time().to_string(),
            (Err(_), _) => String::new(),
        }
    }

    fn refuse(&self, file: &str) -> Result<(), Faults> {
        let good = self.soundings.len() + self.fixes.len() + self.others.values().sum::<usize>();
        if self.bad > good {
            return Err(Fault::file(file, "a log whose checksums mostly fit")
                .found(format!("{} of {} lines garbled", self.bad, self.bad + good))
                .hint(
                    "the connection to the sounder was at fault, often a wrong speed of the line: \
                     set it right and log again",
                )
                .into());
        }
        if self.soundings.is_empty() {
            let others: Vec<&str> = self.others.keys().map(String::as_str).take(8).collect();
            let found = if self.blank_depths > 0 {
                format!("{} depth sentences without a depth", self.blank_depths)
            } else {
                format!("none, but {}", others.join(", "))
            };
            return Err(Fault::file(file, "sentences with a depth (DBT, DPT, DBS or DBK)")
                .found(found)
                .hint("check that the sounder was on and its depth was switched on for the log")
                .into());
        }
        if self.fixes.is_empty() {
            let fault = no_positions(file, self.soundings.len());
            return Err(if self.unplaced_fixes > 0 {
                fault
                    .found(format!("{} depths, and positions without a time", self.soundings.len()))
            } else {
                fault
            }
            .into());
        }
        Ok(())
    }

    fn warnings(&self, from: Option<From>) -> Vec<String> {
        let mut warnings = Vec::new();
        let used = || self.soundings.iter().filter(|one| Some(one.depth.from) == from);
        let offset = used().map(|one| one.depth.offset).fold(0.0, f64::max);
        match from {
            Some(From::Surface) if offset > 0.0 => warnings.push(format!(
                "the depth of the transducer, {offset} m as the log states it, is added: depths \
                 are from the surface"
            )),
            Some(From::Transducer) => warnings.push(
                "depths are from the transducer: add how deep it hung below the surface".to_owned(),
            ),
            Some(From::Keel) => warnings.push(
                "depths are from the keel: add how deep it reached below the surface".to_owned(),
            ),
            Some(From::Surface) | None => {}
        }
        let twice = self.soundings.len() - used().count();
        if twice > 0 {
            warnings.push(format!(
                "{twice} depths from another point of the boat are left out, the same soundings \
                 told again"
            ));
        }
        if self.bad > 0 {
            warnings.push(format!("{} garbled lines are left out", self.bad));
        }
        if !self.others.is_empty() {
            let count: usize = self.others.values().sum();
            let kinds: Vec<String> =
                self.others.iter().map(|(kind, count)| format!("{kind} {count}")).collect();
            warnings.push(format!(
                "{count} sentences of other kinds are passed over: {}",
                kinds.join(", ")
            ));
        }
        warnings
    }
}
