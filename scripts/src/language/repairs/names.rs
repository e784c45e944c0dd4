//! Names: those that the language keeps for itself, those of other languages, those that do not exist.

use super::mistake::{Edit, Mistake, edit, insert};
use crate::language::code::{arguments, line, named, open_braces, uses};
use crate::language::hints::word_after;
use slipsoak_engine::parts::{OILS, PARAMETERS};

/// Words that take a name in quotes.
const NAMING: [&str; 9] =
    ["machine(", "oiled(", "lined(", "relined(", "formed(", "idling(", "calibrated(", "trace(", "recording("];
/// How other languages begin a variable.
const TYPES: [&str; 5] = ["int", "float", "double", "auto", "final"];

impl Mistake<'_> {
    /// A word that the language keeps for itself, used as a name; `def`, `var`, `print "x"`.
    pub fn renamed(&self) -> Option<Vec<Edit>> {
        let name = word_after(&self.text[self.span.start..]);
        let at = self.span.start..self.span.start + name.len();
        let before = self.code[..at.start].trim_end();
        let after = self.code[at.end..].trim_start();
        if ["def", "function", "func", "fun"].contains(&name) && after.starts_with(named) {
            return Some(vec![edit(at, "fn")]);
        }
        if name == "var" && after.starts_with(named) {
            return Some(vec![edit(at, "let")]);
        }
        if name == "new" && after.starts_with(named) {
            let next = at.end + self.code[at.end..].len() - after.len();
            return Some(vec![edit(at.start..next, "")]);
        }
        // Nothing is imported.
        let row = line(self.text, at.start);
        if ["import", "from"].contains(&name) && self.code[row.start..at.start].trim().is_empty() {
            return Some(vec![insert(at.start, "// ")]);
        }
        let declared = before.rsplit(|c: char| c.is_whitespace()).next().unwrap_or_default();
        if TYPES.contains(&declared) && self.title.starts_with("Expecting ';'") {
            return Some(vec![edit(before.len() - declared.len()..before.len(), "let")]);
        }
        if matches!(name, "print" | "debug") && self.message.contains("stands in brackets") {
            let row = self.line();
            let end = at.end + self.code[at.end..row.end].trim_end().trim_end_matches(';').trim_end().len();
            let start = at.end + self.text[at.end..].len() - self.text[at.end..].trim_start().len();
            return Some(vec![edit(at.end..start, "("), insert(end, ")")]);
        }
        self.title.ends_with("is a reserved keyword").then_some(())?;
        let row = &self.code[line(self.text, at.start).start..at.start];
        let parameter = before.ends_with(['(', ',', '|']) && (row.contains("fn ") || row.contains('|'));
        let assigned = after.starts_with('=') && !after.starts_with("==");
        if !(["let", "fn", "for", "const"].contains(&declared) || parameter || assigned) {
            return None;
        }
        let mine = format!("my_{name}");
        let called = format!("Fn(\"{name}\")");
        let texts = self.text.match_indices(&called).map(|found| found.0 + 4..found.0 + 4 + name.len());
        Some(uses(&self.code, name).chain(texts).map(|at| edit(at, mine.clone())).collect())
    }

    /// `cart.vehicle.mass = 160.kg;`: a machine is changed by `having`.
    pub fn setting(&self) -> Option<Vec<Edit>> {
        self.title.contains("neither a unit word nor a reading").then_some(())?;
        let row = self.line();
        let statement = self.code[row.clone()].trim_end().strip_suffix(';')?;
        let start = row.start + statement.len() - statement.trim_start().len();
        let (left, value) = statement.trim_start().split_once('=')?;
        let (object, path) = left.trim_end().split_once('.')?;
        let plain =
            !object.is_empty() && left.trim_end().chars().all(|c| named(c) || c == '.') && !value.starts_with('=');
        let write = format!("let {object} = {object}.having(\"{path}\", {});", value.trim());
        plain.then(|| vec![edit(start..row.start + statement.len() + 1, write)])
    }

    /// Where a statement begins that makes the variable at a byte.
    fn made_by(&self, at: usize) -> Option<usize> {
        let makes = |word: &&&str| self.code[..at].ends_with(**word);
        ["let ", "const "].iter().find(makes).map(|word| at - word.len())
    }

    /// A function without a name: `ride => …`, `lambda ride: …`; a function's name where a function is wanted.
    pub fn function(&self) -> Option<Vec<Edit>> {
        let name = word_after(&self.text[self.span.start..]);
        let word = self.span.start..self.span.start + name.len();
        let next = |at: usize| at + self.code[at..].len() - self.code[at..].trim_start().len();
        let own = |name: &str| self.code.contains(&format!("fn {name}("));
        if self.title.ends_with(": lambda") {
            let (argument, _) = self.code[word.end..].split_once(':')?;
            let plain = argument.trim().chars().all(named);
            let end = word.end + argument.len() + 1;
            return plain.then(|| vec![edit(word.start..end, format!("|{}|", argument.trim()))]);
        }
        if self.title.starts_with("Undefined variable") && self.code[next(word.end)..].starts_with("=>") {
            return Some(vec![edit(word.start..next(word.end) + 2, format!("|{name}|"))]);
        }
        if self.title.starts_with("`Fn` is given a function") && own(name) {
            return Some(vec![edit(word, format!("\"{name}\""))]);
        }
        let inside = arguments(&self.code, &self.span)?;
        let last = inside.start + self.code[inside.clone()].rfind(',').map_or(0, |k| k + 1);
        let at = next(last)..inside.end;
        let given = self.text[at.clone()].trim();
        let quoted = given.trim_matches('"');
        if name == "duty" && self.title.contains("(text, text)") && own(quoted) {
            return Some(vec![edit(at, format!("Fn({given})"))]);
        }
        let bare = name == "compare" && self.title.contains("among its duties is a fn") && own(given);
        bare.then(|| vec![edit(at, format!("duty(\"{given}\", {given})"))])
    }

    /// A variable that does not exist.
    pub fn variable(&self) -> Option<Vec<Edit>> {
        self.title.starts_with("Undefined variable").then_some(())?;
        let (at, rest) = (self.span.start, &self.text[self.span.start..]);
        let name = &rest[..rest.find(|c: char| !named(c)).unwrap_or(rest.len())];
        let (word, before) = (at..at + name.len(), self.code[..at].trim_end());
        let after = self.code[word.end..].trim_start();
        if ["True", "TRUE", "False", "FALSE"].contains(&name) {
            return Some(vec![edit(word, name.to_lowercase())]);
        }
        if let Some(oil) =
            OILS.iter().find(|oil| rest.get(..oil.0.len()).is_some_and(|r| r.eq_ignore_ascii_case(oil.0)))
        {
            return Some(vec![edit(at..at + oil.0.len(), format!("\"{}\"", oil.0))]);
        }
        if let Some(p) = PARAMETERS.iter().find(|p| rest.starts_with(p.path)) {
            return Some(vec![edit(at..at + p.path.len(), format!("\"{}\"", p.path))]);
        }
        if let Some(quoted) = self.message.split("stands in quotes: ").nth(1) {
            return Some(vec![edit(word, quoted)]);
        }
        if self.message.contains("options stand in `#{") {
            return before.ends_with('{').then(|| vec![insert(before.len() - 1, "#")]);
        }
        let begins = self.code[line(self.text, at).start..at].trim().is_empty() || before.ends_with([';', '{', '}']);
        if TYPES.contains(&name) && after.starts_with(named) {
            return Some(vec![edit(word, "let")]);
        }
        if begins && after.starts_with('=') && !after.starts_with("==") {
            return Some(vec![insert(at, "let ")]);
        }
        if NAMING.iter().any(|call| before.ends_with(call)) && after.starts_with(')') {
            return Some(vec![edit(word, format!("\"{name}\""))]);
        }
        let head = self.code[..at].rfind("fn ").filter(|head| open_braces(&self.code[*head..at]) > 0)?;
        let row = line(self.text, head);
        let brace = head + self.code[head..at].find('{')?;
        if name == "ride" {
            let open = head + self.code[head..brace].find("()")?;
            return Some(vec![insert(open + 1, "ride")]);
        }
        // A plain value that was made outside is made inside too.
        let made = uses(&self.code, name).find(|made| self.made_by(made.start).is_some() && made.start < row.start)?;
        let statement = &self.text[self.made_by(made.start)?..line(self.text, made.start).end];
        let statement = &statement[..=statement.find(';')?];
        let plain = statement.split_once('=')?.1.split(|c: char| !(named(c) || c == '.'));
        plain.clone().all(|part| part.is_empty() || part.starts_with(|c: char| c.is_ascii_digit())).then_some(())?;
        Some(vec![insert(brace + 1, format!(" {statement}"))])
    }
}
