//! Canonical JSON: the one spelling of a record that a checksum can be taken of.
//!
//! # References
//! RFC 8785 (2020), JSON Canonicalization Scheme: keys sorted by their UTF-16 units, no blanks,
//! numbers as ECMAScript writes them, strings with the shortest escapes.

use serde_json::Value;
use sha2::{Digest, Sha256};
use std::fmt::Write as _;

/// The canonical text of a value.
pub fn canonical_json(value: &Value) -> String {
    let mut out = String::new();
    write_value(value, &mut out);
    out
}

/// SHA-256 in lower-case hexadecimal.
pub fn sha256_hex(bytes: &[u8]) -> String {
    hex(&Sha256::digest(bytes))
}

pub(crate) fn hex(bytes: &[u8]) -> String {
    bytes.iter().fold(String::with_capacity(bytes.len() * 2), |mut out, byte| {
        let _ = write!(out, "{byte:02x}");
        out
    })
}

fn write_value(value: &Value, out: &mut String) {
    match value {
        Value::Null => out.push_str("null"),
        Value::Bool(true) => out.push_str("true"),
        Value::Bool(false) => out.push_str("false"),
        Value::Number(number) => match number.as_f64() {
            Some(float) => write_number(float, out),
            None => out.push_str("null"),
        },
        Value::String(text) => write_string(text, out),
        Value::Array(items) => {
            out.push('[');
            for (index, item) in items.iter().enumerate() {
                if index > 0 {
                    out.push(',');
                }
                write_value(item, out);
            }
            out.push(']');
        }
        Value::Object(members) => {
            let mut keys: Vec<&String> = members.keys().collect();
            keys.sort_by(|a, b| a.encode_utf16().cmp(b.encode_utf16()));
            out.push('{');
            for (index, key) in keys.into_iter().enumerate() {
                if index > 0 {
                    out.push(',');
                }
                write_string(key, out);
                out.push(':');
                write_value(&members[key], out);
            }
            out.push('}');
        }
    }
}

fn write_string(text: &str, out: &mut String) {
    out.push('"');
    for character in text.chars() {
        match character {
            '"' => out.push_str("\\\""),
            '\\' => out.push_str("\\\\"),
            '\u{8}' => out.push_str("\\b"),
            '\t' => out.push_str("\\t"),
            '\n' => out.push_str("\\n"),
            '\u{c}' => out.push_str("\\f"),
            '\r' => out.push_str("\\r"),
            control if control < ' ' => {
                let _ = write!(out, "\\u{:04x}", u32::from(control));
            }
            other => out.push(other),
        }
    }
    out.push('"');
}

/// ECMAScript's `Number::toString`: the shortest digits that read back to the same number, plain
/// from 1e-6 up to 1e21, else with an exponent.
fn write_number(number: f64, out: &mut String) {
    if number == 0.0 {
        out.push('0');
        return;
    }
    if number < 0.0 {
        out.push('-');
    }
    let scientific = shortest(number.abs());
    let Some((mantissa, exponent)) = scientific.split_once('e') else { return };
    let digits: String = mantissa.chars().filter(char::is_ascii_digit).collect();
    let exponent: i32 = exponent.parse().unwrap_or(0);
    let count = digits.len() as i32;
    // the decimal point stands after `point` digits
    let point = exponent + 1;
    if (count..=21).contains(&point) {
        out.push_str(&digits);
        out.extend(std::iter::repeat_n('0', (point - count) as usize));
    } else if (1..=21).contains(&point) {
        out.push_str(&digits[..point as usize]);
        out.push('.');
        out.push_str(&digits[point as usize..]);
    } else if (-5..=0).contains(&point) {
        out.push_str("0.");
        out.extend(std::iter::repeat_n('0', -point as usize));
        out.push_str(&digits);
    } else {
        out.push_str(&digits[..1]);
        if count > 1 {
            out.push('.');
            out.push_str(&digits[1..]);
        }
        let sign = if exponent < 0 { '-' } else { '+' };
        let _ = write!(out, "e{sign}{}", exponent.abs());
    }
}

/// The shortest digits that read back to the same number, with an exponent. Where two of them are
/// equally close ECMAScript takes the even one, which Rust's shortest form does not; its rounding
/// to a given count of digits does.
fn shortest(number: f64) -> String {
    let shortest = format!("{number:e}");
    let digits = shortest.split('e').next().unwrap_or("").len().saturating_sub(2);
    let even = format!("{number:.digits$e}");
    if even.parse() == Ok(number) { even } else { shortest }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: RFC 8785 (2020), section 3.2.2, sample input and its canonical form.
    #[test]
    fn rfc_8785_section_3_2_2_sample() {
        let input = r#"{
            "numbers": [333333333.33333329, 1E30, 4.50, 2e-3, 0.000000000000000000000000001],
            "string": "\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/",
            "literals": [null, true, false]
        }"#;
        let want = "{\"literals\":[null,true,false],\
                    \"numbers\":[333333333.3333333,1e+30,4.5,0.002,1e-27],\
                    \"string\":\"€$\\u000f\\nA'B\\\"\\\\\\\\\\\"/\"}";
        assert_eq!(canonical_json(&serde_json::from_str(input).unwrap()), want);
    }

    /// Source: RFC 8785 (2020), section 3.2.3, property sorting by UTF-16 units.
    #[test]
    fn rfc_8785_section_3_2_3_property_order() {
        let input = r#"{"\u20ac":"Euro Sign","\r":"Carriage Return","\ufb33":"Hebrew Letter Dalet With Dagesh","1":"One","\ud83d\ude00":"Emoji: Grinning Face","\u0080":"Control","\u00f6":"Latin Small Letter O With Diaeresis"}"#;
        let text = canonical_json(&serde_json::from_str(input).unwrap());
        let order: Vec<usize> =
            ["Carriage Return", "One", "Control", "Latin Small", "Euro Sign", "Emoji", "Hebrew"]
                .iter()
                .map(|word| text.find(word).unwrap())
                .collect();
        assert!(order.is_sorted(), "{text}");
    }

    /// Source: RFC 8785 (2020), appendix B, number serialization samples (bit patterns from
    /// memory, each checked against an ECMAScript engine).
    #[test]
    fn rfc_8785_appendix_b_numbers() {
        let table: &[(u64, &str)] = &[
            (0x0000_0000_0000_0000, "0"),
            (0x8000_0000_0000_0000, "0"),
            (0x0000_0000_0000_0001, "5e-324"),
            (0x8000_0000_0000_0001, "-5e-324"),
            (0x7fef_ffff_ffff_ffff, "1.7976931348623157e+308"),
            (0xffef_ffff_ffff_ffff, "-1.7976931348623157e+308"),
            (0x4340_0000_0000_0000, "9007199254740992"),
            (0xc340_0000_0000_0000, "-9007199254740992"),
            (0x4430_0000_0000_0000, "295147905179352830000"),
            (0x44b5_2d02_c7e1_4af5, "9.999999999999997e+22"),
            (0x44b5_2d02_c7e1_4af6, "1e+23"),
            (0x44b5_2d02_c7e1_4af7, "1.0000000000000001e+23"),
            (0x444b_1ae4_d6e2_ef4e, "999999999999999700000"),
            (0x444b_1ae4_d6e2_ef4f, "999999999999999900000"),
            (0x444b_1ae4_d6e2_ef50, "1e+21"),
            (0x3eb0_c6f7_a0b5_ed8c, "9.999999999999997e-7"),
            (0x3eb0_c6f7_a0b5_ed8d, "0.000001"),
            (0x41b3_de43_5555_5553, "333333333.3333332"),
            (0x41b3_de43_5555_5554, "333333333.33333325"),
            (0x41b3_de43_5555_5555, "333333333.3333333"),
            (0x41b3_de43_5555_5556, "333333333.3333334"),
            (0x41b3_de43_5555_5557, "333333333.33333343"),
            (0xbecb_f647_612f_3696, "-0.0000033333333333333333"),
            (0x4314_3ff3_c1cb_0959, "1424953923781206.2"),
        ];
        for (bits, want) in table {
            let mut out = String::new();
            write_number(f64::from_bits(*bits), &mut out);
            assert_eq!(&out, want, "{bits:016x}");
        }
    }

    /// Source: FIPS 180-4 (2015), SHA-256 of the message `abc` (NIST example values).
    #[test]
    fn fips_180_4_abc() {
        assert_eq!(
            sha256_hex(b"abc"),
            "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
        );
    }
}
