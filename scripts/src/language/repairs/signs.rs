//! Units, quotes, comments and signs in the manner of other languages.

use super::mistake::{Edit, Mistake, edit, insert};
use crate::language::code::{arguments, closing, named};
use crate::language::hints::{number_before, unit_word, word_after};

/// Quotes that are not straight.
const ROUND: [char; 6] = ['“', '”', '„', '«', '»', '″'];

impl Mistake<'_> {
    /// `15 s`, `15s`, `20 km/h`, `20 °C`, `70 %`, `20.km/h`, `5.5:1`.
    pub fn unit(&self) -> Option<Vec<Edit>> {
        let name = self.word();
        if self.title.starts_with("Undefined variable") {
            let start = self.text[..self.span.start].rfind('.')?;
            let end = self.span.start + word_after(&self.text[self.span.start..]).len();
            let unit = &self.text[start + 1..end];
            let word = unit_word(unit).filter(|_| unit.contains('/'))?;
            return Some(vec![edit(start + 1..end, word)]);
        }
        if !["Expecting ','", "Expecting ')'", "Expecting ';'", "Unexpected", "Unknown operator"]
            .iter()
            .any(|title| self.title.starts_with(title))
        {
            return None;
        }
        if let Some(percent) = self.text[..self.end].strip_suffix('%')
            && number_before(percent).is_some()
        {
            return Some(vec![edit(percent.trim_end().len()..self.end, ".percent")]);
        }
        let number = number_before(&self.text[..self.end])?;
        if let Some(below) = self.text[self.next..].strip_prefix(':') {
            let below = &below[..below.find(|c: char| !(c.is_ascii_digit() || c == '.')).unwrap_or(below.len())];
            below.parse::<f64>().ok().filter(|below| *below > 0.0)?;
            let whole = if number.contains('.') { "" } else { ".0" };
            let write = if below == "1" { String::new() } else { format!("{whole} / {below}") };
            return Some(vec![edit(self.end..self.next + 1 + below.len(), write)]);
        }
        let word = unit_word(name)?;
        // `ride.celsius(…) > 80 °C`: what is read is a plain number of degrees.
        let reading = match word {
            "degC" => &["celsius(", ".temperature(", ".temp("][..],
            "degF" => &["fahrenheit("],
            _ => &[],
        };
        if reading.iter().any(|reading| self.code[self.line()].contains(reading)) {
            return Some(vec![edit(self.end..self.next + name.len(), "")]);
        }
        Some(vec![edit(self.end..self.next + name.len(), format!(".{word}"))])
    }

    /// `and`, `or`, `not`, `elif`, `=` for `==`, `++`.
    pub fn logic(&self) -> Option<Vec<Edit>> {
        let at = |word: &str| self.next..self.next + word.len();
        let here = |word: &str| self.span.start..self.span.start + word.len();
        let rest = &self.code[self.span.start..];
        match (self.word(), word_after(rest)) {
            ("and", _) if self.title.starts_with("Expecting") => Some(vec![edit(at("and"), "&&")]),
            ("or", _) if self.title.starts_with("Expecting") => Some(vec![edit(at("or"), "||")]),
            (_, "elif" | "elsif") => Some(vec![edit(here(word_after(rest)), "else if")]),
            (_, "not") => {
                let from = self.span.start + "not".len();
                let stops = ["{", ";", ",", ":", "\n", " and ", " or ", "&&", "||"];
                let stop = stops.iter().filter_map(|stop| self.code[from..].find(stop)).min();
                let end = closing(&self.code, from).into_iter().chain(stop.map(|k| from + k)).min()?;
                let operand = self.code[from..end].trim();
                let (open, close) = if operand.contains([' ', '<', '>', '=']) { ("!(", ")") } else { ("!", "") };
                let start = from + self.code[from..].len() - self.code[from..].trim_start().len();
                Some(vec![edit(self.span.start..start, open), insert(start + operand.len(), close)])
            }
            _ if self.title.contains("typo of '=='") => Some(vec![edit(here("="), "==")]),
            _ if self.title.contains("'++'") => Some(vec![edit(here("++"), " += 1")]),
            _ => None,
        }
    }

    /// `'text'`, “text”, and names that are not quoted.
    pub fn quotes(&self) -> Option<Vec<Edit>> {
        let row = self.line();
        let rest = &self.text[self.span.start..row.end.max(self.span.start)];
        if self.title.starts_with("Unexpected") && rest.starts_with(ROUND) {
            let found = self.text[row.clone()].match_indices(ROUND);
            return Some(found.map(|(k, sign)| edit(row.start + k..row.start + k + sign.len(), "\"")).collect());
        }
        let char = self.title.contains("(char") || self.title.contains(", char");
        if self.title.starts_with("Invalid character") || char {
            let start = self.span.start + rest.find('\'')?;
            let end = start + 1 + self.text[start + 1..row.end].find('\'')?;
            (!self.text[start..end].contains('"')).then_some(())?;
            return Some(vec![edit(start..start + 1, "\""), edit(end..end + 1, "\"")]);
        }
        None
    }

    /// `# note`.
    pub fn comment(&self) -> Option<Vec<Edit>> {
        let at = self.span.start;
        (self.title.starts_with("'#'") && self.code[at..].starts_with(' ')).then(|| vec![edit(at..at + 1, "//")])
    }

    /// `1,5` for one number: tried first where a call is refused.
    pub fn decimal_comma(&self) -> Option<Vec<Edit>> {
        let inside = arguments(&self.code, &self.span)?;
        let digit = |c: char| c.is_ascii_digit();
        let at = self.code[inside.clone()].match_indices(',').map(|found| inside.start + found.0).find(|at| {
            let before = self.code[..*at].trim_end_matches(digit);
            before.len() < *at
                && !before.ends_with(|c: char| named(c) || c == '.')
                && self.code[at + 1..].starts_with(digit)
        })?;
        Some(vec![edit(at..at + 1, ".")])
    }
}
