//! Blocks, loops and brackets in the manner of other languages.

use super::mistake::{Edit, Mistake, edit, insert};
use crate::language::code::{arguments, block, closing, line, named, open_braces, uses};

impl Mistake<'_> {
    /// A block that begins with a colon, or without a brace, and ends with its indentation; a brace that is not closed.
    pub fn block(&self) -> Option<Vec<Edit>> {
        let code = &self.code;
        let surplus = open_braces(code);
        if self.title.contains("Expecting '}'") || self.title.contains("incomplete") {
            let mut heads = vec![];
            let mut start = 0;
            for row in code.split_inclusive('\n') {
                let head = line(code, start);
                start += row.len();
                if let (Some(end), after) = block(code, &head)
                    && code[head].trim_end().ends_with('{')
                    && !after.starts_with('}')
                {
                    heads.push(insert(end, " }"));
                }
            }
            return (heads.len().cast_signed() == surplus).then_some(heads);
        }
        if !(self.title.contains("Expecting '{'") || self.title.contains("body statement block")) {
            return None;
        }
        let colon = usize::from(code[self.next..].starts_with(':'));
        if colon == 0 && code[self.next..].starts_with(named) {
            return None;
        }
        let head = line(self.text, self.end);
        let begin = edit(self.end..self.next + colon, " {");
        let from = self.next + colon;
        let rest = code[from..head.end.max(from)].trim_end();
        if colon == 1 && rest.trim() == "{" {
            return Some(vec![edit(self.end..from, "")]);
        }
        if colon == 1 && !rest.trim().is_empty() {
            let last = from + rest.len();
            let close = closing(code, from).filter(|at| *at < last).unwrap_or(last);
            return Some(vec![begin, insert(close, " }")]);
        }
        if surplus < 0 {
            return Some(vec![begin]);
        }
        Some(vec![begin, insert(block(code, &head).0?, " }")])
    }

    /// `range(60)`, `for i in 60`, `for (i = 0; i < 60; i++)`.
    pub fn loops(&self) -> Option<Vec<Edit>> {
        let row = self.line();
        if self.title.starts_with("`range` was given 1") {
            let inside = arguments(&self.code, &self.span)?;
            return Some(vec![edit(self.span.start..inside.end + 1, format!("0..{}", &self.text[inside]))]);
        }
        if let Some(counted) = self.counted() {
            return Some(vec![counted]);
        }
        if self.title.contains("iterable") {
            let start = row.start + self.code[row.clone()].find(" in ")? + 4;
            return self.code[start..].starts_with(|c: char| c.is_ascii_digit()).then(|| vec![insert(start, "0..")]);
        }
        self.message.contains("loops are written").then_some(())?;
        let start = row.start + self.code[row.clone()].find("for (")? + 4;
        let end = closing(&self.code, start + 1)?;
        let parts: Vec<&str> = self.code[start + 1..end].split(';').map(str::trim).collect();
        let [first, while_so, step] = parts[..] else { return None };
        let (name, from) =
            first.trim_start_matches("let ").trim_start_matches("int ").trim_start_matches("var ").split_once('=')?;
        let (name, from) = (name.trim(), from.trim());
        [format!("{name}++"), format!("++{name}"), format!("{name} += 1")].contains(&step.to_owned()).then_some(())?;
        let (range, most) = while_so.strip_prefix(name)?.trim_start().split_once(' ').and_then(|(sign, most)| {
            Some((
                match sign {
                    "<" => "..",
                    "<=" => "..=",
                    _ => return None,
                },
                most.trim(),
            ))
        })?;
        Some(vec![edit(start..end + 1, format!("{name} in {from}{range}{most}"))])
    }

    /// `for i = 1:10`, `for i in 1 to 10`, of which the last is the tenth; `repeat 10`, `foreach`.
    fn counted(&self) -> Option<Edit> {
        let row = self.line();
        let code = &self.code[row.clone()];
        let word = |name: &str| Some(row.start + uses(code, name).next()?.start);
        if self.title.ends_with(": foreach") {
            let at = word("foreach")?;
            return Some(edit(at..at + "foreach".len(), "for"));
        }
        let number = |text: &str| text.parse::<u32>().is_ok();
        if self.title.ends_with(": repeat") {
            let at = word("repeat")?;
            let times = self.code[at + "repeat".len()..row.end].split_once('{')?.0.trim();
            let end = at + self.code[at..].find(times)? + times.len();
            return number(times).then(|| edit(at..end, format!("for pass in 0..{times}")));
        }
        (self.message.contains("loops are written") || self.title.contains("iterable")).then_some(())?;
        let at = word("for")? + "for ".len();
        let (head, _) = self.code.get(at..row.end)?.split_once(['{', ','])?;
        let (name, range) = head.split_once(" in ").or_else(|| head.split_once('='))?;
        let (from, to) = range.split_once(" to ").or_else(|| range.split_once(':'))?;
        let [name, from, to] = [name, from, to].map(str::trim);
        (number(from) && number(to)).then(|| edit(at..at + head.trim_end().len(), format!("{name} in {from}..={to}")))
    }

    /// Semicolons and round brackets that are missing or too many.
    pub fn brackets(&self) -> Option<Vec<Edit>> {
        let next = self.text[self.next..].chars().next();
        if self.title.starts_with("Expecting ';'") {
            if self.code[self.next..].starts_with(')') {
                return Some(vec![edit(self.next..self.next + 1, "")]);
            }
            return Some(vec![insert(self.end, ";")]);
        }
        if !(self.title.starts_with("Expecting ','") || self.title.starts_with("Expecting ')'")) {
            return None;
        }
        if self.message.contains("a comma stands between arguments") {
            return Some(vec![edit(self.next..self.next + 1, ",")]);
        }
        matches!(next, Some(';' | '\n' | '\r') | None).then(|| vec![insert(self.end, ")")])
    }
}
