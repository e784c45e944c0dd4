//! The description of the model keeps to the code: its constants and the files that it names.

use slipsoak_engine::fleet::{ASSUMED, Spread};
use slipsoak_engine::parts::{Confidence, PARAMETERS, Parameter, parameter};
use slipsoak_engine::parts_file::quantity;
use std::path::Path;

const TEXT: &str = include_str!("../MODEL.md");

/// What stands beneath a heading.
fn section(heading: &str) -> &'static str {
    let found = TEXT.split("\n## ").find(|s| s.lines().next().is_some_and(|l| l.contains(heading)));
    found.unwrap_or_else(|| panic!("no section {heading}"))
}

/// Rows of the tables beneath a heading, without heads and rules.
pub fn rows(heading: &str) -> Vec<Vec<&'static str>> {
    let lines: Vec<&str> = section(heading).lines().collect();
    let cells = |line: &'static str| line.trim_matches('|').split('|').map(str::trim).collect();
    let head = |k: usize| lines.get(k + 1).is_some_and(|next| next.starts_with("|--"));
    let body = |&k: &usize| lines[k].starts_with('|') && !lines[k].starts_with("|--") && !head(k);
    (0..lines.len()).filter(body).map(|k| cells(lines[k])).collect()
}

/// A setting as the text gives it.
struct Told {
    setting: &'static Parameter,
    default: &'static str,
    spread: &'static str,
    confidence: &'static str,
    source: &'static str,
}

/// The settings of the tables, and of the lists of those without a spread and a remark.
fn told() -> Vec<Told> {
    let find = |path: &str| parameter(path).unwrap_or_else(|| panic!("{path} is no setting"));
    let mut all = vec![];
    for row in rows("Constants") {
        for path in row[0].split(", ") {
            let setting = find(path.trim_matches('`'));
            all.push(Told { setting, default: row[1], spread: row[2], confidence: row[3], source: row[4] });
        }
    }
    for line in section("Constants").lines() {
        let Some((confidence, list)) = line.strip_prefix("- ").and_then(|line| line.split_once(": `")) else {
            continue;
        };
        for (path, default) in list.split(" · `").filter_map(|item| item.split_once("` ")) {
            all.push(Told { setting: find(path), default, spread: "—", confidence, source: "" });
        }
    }
    all
}

/// The number at the start of a text.
pub fn number(text: &str) -> f64 {
    let first = text.split_whitespace().next().unwrap_or_default();
    first.parse().unwrap_or_else(|_| panic!("`{text}` begins with no number"))
}

/// A unit of the last digit of a printed number.
pub fn last_digit(text: &str) -> f64 {
    let first = text.split_whitespace().next().unwrap_or_default();
    let (digits, power) = first.split_once('e').unwrap_or((first, "0"));
    let decimals = digits.split_once('.').map_or(0, |(_, after)| after.len() as i32);
    10_f64.powi(power.parse::<i32>().expect("a power of ten") - decimals)
}

#[test]
fn every_default_and_its_confidence_in_the_text_is_that_of_the_code() {
    for Told { setting: p, default, confidence, source, .. } in told() {
        let value = quantity(default, p.dimension).unwrap_or_else(|e| panic!("{}: {e}", p.path));
        assert!((value - p.default).abs() <= 1e-9 * p.default.abs(), "{}: {value}, {} in the code", p.path, p.default);
        assert_eq!(confidence, format!("{:?}", p.confidence).to_lowercase(), "{}", p.path);
        assert!(p.confidence != Confidence::Published || !source.is_empty(), "{}: published where?", p.path);
    }
}

#[test]
fn every_spread_in_the_text_is_that_which_fleets_sample_and_every_range_holds_its_default() {
    for Told { setting: p, spread: text, .. } in told() {
        let read = |text: &str| quantity(text, p.dimension).unwrap_or_else(|e| panic!("{}: {e}", p.path));
        let sampled = ASSUMED.iter().find(|known| known.0 == p).map(|known| known.1);
        let said = match (text.split_once(' '), text.split_once('–')) {
            (Some(("÷×", factor)), _) => Some(Spread::Factor(number(factor))),
            (Some(("±", half)), _) => Some(Spread::Uniform(read(half))),
            (Some(("σ", deviation)), _) => Some(Spread::Normal(read(deviation))),
            (_, Some((least, most))) => {
                let unit = most.trim_start_matches(|c: char| c.is_ascii_digit() || ".e-".contains(c));
                let (least, most) = (read(&format!("{least}{unit}")), read(most));
                assert!(least <= p.default && p.default <= most, "{}: {least} to {most}", p.path);
                assert!(p.least <= least && most <= p.most, "{}: the code allows {} to {}", p.path, p.least, p.most);
                None
            }
            _ => {
                assert_eq!(text, "—", "{}", p.path);
                None
            }
        };
        assert_eq!(said, sampled, "{}", p.path);
    }
}

#[test]
fn every_setting_that_is_assumed_or_belongs_to_bearing_lining_oil_or_heat_is_in_the_text_once() {
    let told = told();
    for p in PARAMETERS {
        let count = told.iter().filter(|row| row.setting.path == p.path).count();
        let group = p.path.split('.').next().unwrap_or_default();
        let wanted = ["bushing", "washer", "lining", "oiling", "heat"].contains(&group)
            || p.confidence == Confidence::Assumed
            || ASSUMED.iter().any(|known| known.0 == p);
        assert!(count == 1 || (!wanted && count == 0), "{} is there {count} times", p.path);
    }
}

#[test]
fn every_file_that_the_text_names_exists() {
    let named = TEXT.split('`').filter(|word| word.starts_with("engine/"));
    let mut seen = 0;
    for word in named {
        assert!(Path::new("..").join(word).exists(), "{word}");
        seen += 1;
    }
    assert!(seen > 10, "{seen} paths");
}
