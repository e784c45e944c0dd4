//! What a message says to write: the same text goes into the corrected line.

use super::mistake::{Edit, Mistake, edit, insert};
use crate::language::code::{arguments, closing, named};
use crate::read::setting_advice;
use crate::read::units::UNITS;
use std::ops::Range;

impl Mistake<'_> {
    /// A call that the message writes anew: "write `brake(1.5)`"; a second one after "else".
    pub fn call_as_told(&self) -> Option<Vec<Edit>> {
        let inside = arguments(&self.code, &self.span)?;
        let call = format!(" `{}(", &self.text[self.span.clone()]);
        let begins = ["write", "did you mean"].map(|told| format!("{told}{call}"));
        let told = begins.iter().find_map(|begin| self.message.split_once(begin))?.1;
        let write = told.split_once(")`")?.0.to_owned();
        let or = told.split_once(&format!("else{call}")).and_then(|other| other.1.split_once(")`"));
        Some(vec![Edit { at: inside, write, or: or.map(|or| or.0.to_owned()) }])
    }

    /// A temperature beside a plain number of degrees: "write 80 in place of 80.degC".
    pub fn in_place(&self) -> Option<Vec<Edit>> {
        let (before, told) = self.title.split_once(" in place of ")?;
        let (write, stands) = (before.rsplit_once("write ")?.1, told.split_once(';')?.0);
        let line = self.line();
        let start = line.start + self.code[line].find(stands)?;
        Some(vec![edit(start..start + stands.len(), write)])
    }

    /// A number without its unit, or a quantity in quotes: the message writes it as `25.km_h`.
    pub fn value_with_unit(&self) -> Option<Vec<Edit>> {
        let inside = arguments(&self.code, &self.span)?;
        // A quantity of another kind has its unit.
        (!self.message.contains("; here ")).then_some(())?;
        let quantity = |token: &str| {
            let (number, unit) = token.rsplit_once('.')?;
            number.parse::<f64>().ok()?;
            UNITS.iter().find(|known| known.word == unit).map(|known| (number.to_owned(), known.word))
        };
        let tokens = || self.message.split(|c: char| !(named(c) || c == '.' || c == '-')).map(|t| t.trim_matches('.'));
        let (number, unit) = tokens().find_map(quantity)?;
        let write = format!("{number}.{unit}");
        if let Some(text) = self.message.split_once("the text \"").and_then(|text| text.1.split_once('"')) {
            let quoted = format!("\"{}\"", text.0);
            let at = inside.start + self.text[inside].find(&quoted)?;
            return Some(vec![edit(at..at + quoted.len(), write)]);
        }
        let bare = |at: &usize| {
            let (before, after) = (&self.code[..*at], &self.code[at + number.len()..]);
            !before.ends_with(|c: char| named(c) || c == '.') && !after.starts_with(|c: char| named(c) || c == '.')
        };
        let places = |range: Range<usize>| {
            let found = self.code[range.clone()].match_indices(&number);
            found.map(|found| range.start + found.0).filter(bare).collect::<Vec<_>>()
        };
        // The number may stand in a list, if there is only one such.
        let (own, all) = (places(inside), places(0..self.code.len()));
        let at = own.first().or(if all.len() == 1 { all.first() } else { None }).copied()?;
        let other = (unit == "km_h").then(|| format!("{number}.mph"));
        Some(vec![Edit { at: at..at + number.len(), write, or: other }])
    }

    /// "did you mean `launch`?"; a second meaning after "or".
    pub fn name_as_told(&self) -> Option<Vec<Edit>> {
        let (before, told) = self.message.split_once("did you mean `")?;
        let (right, rest) = told.split_once('`')?;
        let right = right.trim_start_matches('.');
        right.starts_with(|c: char| c.is_alphabetic()).then_some(())?;
        let at = &self.span;
        let wrong = before.split('`').skip(1).step_by(2).last()?;
        if self.text[at.clone()] == *wrong.trim_start_matches('.') {
            let right = if self.text[..at.start].ends_with('.') { right.rsplit('.').next()? } else { right };
            // `cart.mass(200.kg)`: a setting is no word by itself.
            if right == "having"
                && let Some(inside) = arguments(&self.code, at)
                && !self.code[inside.clone()].contains(',')
            {
                let advice = setting_advice::advice(wrong);
                let path = advice.strip_prefix("did you mean `")?.split_once('`')?.0;
                return Some(vec![edit(at.start..inside.start, format!("having(\"{path}\", "))]);
            }
            return Some(vec![edit(at.clone(), right)]);
        }
        // A file may be named without its ending.
        let quoted = [wrong, wrong.rsplit_once('.').map_or(wrong, |name| name.0)].map(|wrong| format!("\"{wrong}\""));
        let end = self.code[at.start..].find(';').map_or(self.text.len(), |k| at.start + k);
        let statement = &self.text[at.start..end];
        let (start, quoted) = quoted.iter().find_map(|quoted| Some((at.start + statement.find(quoted)?, quoted)))?;
        let named = start..start + quoted.len();
        let or = rest.strip_prefix(" or `").and_then(|or| Some(format!("\"{}\"", or.split_once('`')?.0)));
        let mut edits = vec![Edit { at: named.clone(), write: format!("\"{right}\""), or }];
        if rest.contains("half of the diameter") {
            edits.push(insert(closing(&self.code, named.end)?, " / 2"));
        }
        Some(edits)
    }

    /// `ride.trace("town")` for `ride.follow(trace("town"))`, and `trace` of what is a recording.
    pub fn followed(&self) -> Option<Vec<Edit>> {
        let word = &self.text[self.span.clone()];
        let inside = arguments(&self.code, &self.span)?;
        if self.message.contains(&format!("write `ride.follow({word}(")) {
            return Some(vec![edit(self.span.clone(), format!("follow({word}")), insert(inside.end, ")")]);
        }
        let recording = self.title.split_once("write `recording(")?.1.split_once(")`")?.0;
        let at = self.span.start..inside.end;
        (word == "trace").then(|| vec![edit(at, format!("recording({recording}"))])
    }

    /// "`organic` may be either of two: write \"woven\" or \"moulded\""
    pub fn one_of_two(&self) -> Option<Vec<Edit>> {
        let (before, told) = self.title.split_once("` may be either of two: write ")?;
        let (write, or) = told.split_once(" or ")?;
        let quoted = format!("\"{}\"", before.rsplit('`').next()?);
        let start = self.span.start + self.text[self.span.start..].find(&quoted)?;
        Some(vec![Edit { at: start..start + quoted.len(), write: write.to_owned(), or: Some(or.to_owned()) }])
    }
}
