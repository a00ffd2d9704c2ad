//! One line of a log.

use crate::text::parse_number;
use jiff::civil::Date;
use units::LengthUnit;

/// What a depth is measured from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum From {
    Surface,
    Transducer,
    Keel,
}

impl From {
    pub(super) const fn word(self) -> &'static str {
        match self {
            Self::Surface => "surface",
            Self::Transducer => "transducer",
            Self::Keel => "keel",
        }
    }
}

/// A depth in metres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Depth {
    pub(super) metres: f64,
    pub(super) from: From,
    /// What was added to it to reach the surface.
    pub(super) offset: f64,
}

/// A position in degrees.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Fix {
    pub(super) longitude: f64,
    pub(super) latitude: f64,
}

/// What a sentence says that is of use here.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Says {
    /// A depth, or that none could be measured.
    Depth(Option<Depth>),
    /// Seconds since midnight, a day where it is told, a position where it is valid.
    Time { seconds: Option<f64>, day: Option<Date>, fix: Option<Fix> },
    /// Something else, by its three letters, `AIS` or `own` for a maker's own.
    Other(String),
}

/// Why a line is not read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Broken {
    /// No sentence begins in it.
    NoSentence,
    /// The checksum does not fit.
    Checksum,
    /// There is no checksum.
    Unchecked,
}

/// The sentence of a line and whether its checksum was there; a logger may have put a time or a
/// block of tags before it.
pub(super) fn parse(line: &str) -> Result<Says, (Broken, Option<Says>)> {
    let none = (Broken::NoSentence, None);
    let line = match line.trim().strip_prefix('\\') {
        Some(tagged) => tagged.split_once('\\').ok_or(none.clone())?.1,
        None => line.trim(),
    };
    let start = line.find(['$', '!']).ok_or(none.clone())?;
    let body = &line[start + 1..];
    match body.rsplit_once('*') {
        Some((sentence, sum)) => {
            let stated = u8::from_str_radix(sum.trim(), 16);
            let sum = sentence.bytes().fold(0, |sum, byte| sum ^ byte);
            if stated != Ok(sum) {
                return Err((Broken::Checksum, None));
            }
            Ok(says(&line[start..=start], sentence))
        }
        None => Err((Broken::Unchecked, Some(says(&line[start..=start], body)))),
    }
}

fn says(mark: &str, sentence: &str) -> Says {
    let fields: Vec<&str> = sentence.split(',').map(str::trim).collect();
    let address = fields[0];
    let kind = if mark == "!" {
        "AIS"
    } else if address.starts_with('P') {
        "own"
    } else {
        address.get(address.len().saturating_sub(3)..).unwrap_or_default()
    };
    let field = |index: usize| fields.get(index).copied().unwrap_or_default();
    let time = |seconds: &str, day: Option<Date>, fix: Option<Fix>| Says::Time {
        seconds: clock(seconds),
        day,
        fix,
    };
    match kind {
        "DBT" => Says::Depth(three_units(&field, From::Transducer)),
        "DBS" => Says::Depth(three_units(&field, From::Surface)),
        "DBK" => Says::Depth(three_units(&field, From::Keel)),
        "DPT" => Says::Depth(with_offset(field(1), field(2))),
        "GGA" => {
            let valid = !matches!(field(6), "" | "0");
            time(field(1), None, fix(&field, 2).filter(|_| valid))
        }
        "RMC" => {
            let valid = field(2) == "A" && field(12) != "N";
            time(field(1), short_day(field(9)), fix(&field, 3).filter(|_| valid))
        }
        "GLL" => {
            let valid = matches!(field(6), "A" | "") && field(7) != "N";
            time(field(5), None, fix(&field, 1).filter(|_| valid))
        }
        "ZDA" => {
            let whole = |index: usize| field(index).parse::<i16>().ok();
            let day = whole(4).zip(whole(3)).zip(whole(2)).and_then(|((year, month), day)| {
                let year = if year < 100 { 2_000 + year } else { year };
                Date::new(year, i8::try_from(month).ok()?, i8::try_from(day).ok()?).ok()
            });
            time(field(1), day, None)
        }
        other => Says::Other(other.to_owned()),
    }
}

/// Feet, metres and fathoms of the same depth. Metres, unless they are cut to a decimetre where
/// feet have a tenth, which is finer.
fn three_units<'a>(field: &impl Fn(usize) -> &'a str, from: From) -> Option<Depth> {
    let number = |index: usize, letter: &str| {
        let value = parse_number(field(index), false)?;
        field(index + 1).eq_ignore_ascii_case(letter).then_some(value)
    };
    let decimals = |index: usize| field(index).split_once('.').map_or(0, |(_, rest)| rest.len());
    let feet = number(1, "f").map(|feet| feet * LengthUnit::Foot.metres());
    let metres = number(3, "M");
    let fathoms = number(5, "F").map(|fathoms| fathoms * LengthUnit::Fathom.metres());
    let finer = decimals(3) < 2 && decimals(1) > 0 && decimals(1) >= decimals(3);
    let metres = if finer { feet.or(metres) } else { metres.or(feet) }.or(fathoms)?;
    Some(Depth { metres, from, offset: 0.0 })
}

/// Depth below the transducer and how far the water line is above it (positive) or the keel below
/// it (negative).
fn with_offset(depth: &str, offset: &str) -> Option<Depth> {
    let metres = parse_number(depth, false)?;
    Some(match parse_number(offset, false) {
        Some(offset) if offset > 0.0 => {
            Depth { metres: metres + offset, from: From::Surface, offset }
        }
        _ => Depth { metres, from: From::Transducer, offset: 0.0 },
    })
}

/// `195719.00` as seconds since midnight.
fn clock(text: &str) -> Option<f64> {
    let whole = |range: std::ops::Range<usize>, most: f64| {
        let part = text.get(range).filter(|part| part.bytes().all(|b| b.is_ascii_digit()))?;
        part.parse::<f64>().ok().filter(|value| *value < most)
    };
    let (hours, minutes) = (whole(0..2, 24.0)?, whole(2..4, 60.0)?);
    let seconds = parse_number(text.get(4..)?, false).filter(|s| (0.0..61.0).contains(s))?;
    Some(hours * 3_600.0 + minutes * 60.0 + seconds)
}

/// `160414`: day, month, year of two digits, 1980 to 2079.
fn short_day(text: &str) -> Option<Date> {
    let part = |range: std::ops::Range<usize>| text.get(range)?.parse::<i8>().ok();
    let year = i16::from(part(4..6)?);
    Date::new(if year < 80 { 2_000 + year } else { 1_900 + year }, part(2..4)?, part(0..2)?).ok()
}

/// `5310.8115,N,00525.7025,E` from this field on.
fn fix<'a>(field: &impl Fn(usize) -> &'a str, from: usize) -> Option<Fix> {
    let degrees = |text: &str, letter: &str, letters: [&str; 2], most: f64| {
        let value = parse_number(text, false).filter(|value| *value >= 0.0)?;
        let whole = (value / 100.0).floor();
        let minutes = value - whole * 100.0;
        let degrees = whole + minutes / 60.0;
        let sign = letters.iter().position(|known| *known == letter)?;
        (minutes < 60.0 && degrees <= most).then_some(if sign == 0 { degrees } else { -degrees })
    };
    Some(Fix {
        latitude: degrees(field(from), field(from + 1), ["N", "S"], 84.0)?,
        longitude: degrees(field(from + 2), field(from + 3), ["E", "W"], 180.0)?,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(line: &str) -> Says {
        parse(line).unwrap()
    }

    /// Sentences of boats' instruments; the checksums are theirs.
    #[test]
    fn sentences_as_instruments_send_them() {
        let depth = |metres, from, offset| Says::Depth(Some(Depth { metres, from, offset }));
        assert_eq!(
            read("$IIDBT,034.25,f,010.44,M,005.64,F*27"),
            depth(10.44, From::Transducer, 0.0)
        );
        assert_eq!(
            read("12:00:01.5 $SDDBT,1.8,f,0.5,M,0.3,F*09"),
            depth(1.8 * 0.3048, From::Transducer, 0.0)
        );
        assert_eq!(read("$SDDPT,0.5,0.5,*7B"), depth(1.0, From::Surface, 0.5));
        assert_eq!(read("$23DBS,01.9,f,0.58,M,00.3,F*21"), depth(0.58, From::Surface, 0.0));
        let Says::Time { seconds, day, fix } =
            read("$GPRMC,195719,A,5310.8115,N,00525.7025,E,0.0,0.0,160414,0.7,E,A*10")
        else {
            unreachable!()
        };
        assert_eq!(seconds, Some(19.0 * 3_600.0 + 57.0 * 60.0 + 19.0));
        assert_eq!(day, Some(jiff::civil::date(2014, 4, 16)));
        let fix = fix.unwrap();
        assert!((fix.latitude - (53.0 + 10.811_5 / 60.0)).abs() < 1e-12);
        assert!((fix.longitude - (5.0 + 25.702_5 / 60.0)).abs() < 1e-12);
        assert_eq!(
            read("!AIVDM,1,1,0,,E>jN6<0W6@1WPab3bPa2@LtP0000:uoH?9Ur@00000000?,4,4*76"),
            Says::Other("AIS".to_owned())
        );
        assert_eq!(read("$IIHDT,,T*0C"), Says::Other("HDT".to_owned()));
    }

    #[test]
    fn broken_lines_say_why() {
        let why = |line: &str| parse(line).unwrap_err().0;
        assert_eq!(why("$IIDBT,034.25,f,010.45,M,005.64,F*27"), Broken::Checksum);
        assert_eq!(why("$IIDBT,034.25,f,010.44,M,005.64,F"), Broken::Unchecked);
        assert_eq!(why("log started"), Broken::NoSentence);
        assert_eq!(why("\\s:1"), Broken::NoSentence);
    }
}
