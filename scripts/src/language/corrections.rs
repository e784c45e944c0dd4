//! What to write in a refused script, line by line.

use std::fmt::Write;

/// Most lines that a message shows.
const SHOWN: usize = 12;
/// Longest line that is shown whole, and how much of a longer one stands beside its change, characters.
const LONGEST: usize = 160;
const BESIDE: usize = 30;
/// What to write in a script.
#[derive(Clone, Debug, PartialEq)]
pub struct Corrections {
    /// the script with all of it
    pub text: String,
    /// lines to change
    pub lines: Vec<Line>,
    /// mistakes whose remedy is not known, with their lines
    pub left: Vec<(usize, String)>,
}

/// A line to change.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// its number, from 1
    pub number: usize,
    /// as it stands
    pub stands: String,
    /// as it should be written
    pub write: String,
    /// another meaning
    pub or: Option<String>,
}

/// A line, or the part of a long one around its change.
fn part(line: &str, other: &str) -> String {
    let count = line.chars().count();
    if count <= LONGEST {
        return line.trim().to_owned();
    }
    let same = |a: &mut dyn Iterator<Item = char>, b: &mut dyn Iterator<Item = char>| {
        a.zip(b).take_while(|(a, b)| a == b).count()
    };
    let before = same(&mut line.chars(), &mut other.chars());
    let after = same(&mut line.chars().rev(), &mut other.chars().rev()).min(count - before);
    let (from, to) = (before.saturating_sub(BESIDE), (count - after + BESIDE).min(count));
    let shown: String = line.chars().skip(from).take((to - from).min(LONGEST)).collect();
    let dots = |cut: bool| if cut { "…" } else { "" };
    format!("{}{}{}", dots(from > 0), shown.trim(), dots(to < count))
}

fn count(lines: usize) -> String {
    if lines == 1 { "1 line".to_owned() } else { format!("{lines} lines") }
}

impl Corrections {
    /// The lines as they stand and as they should be written, for a message.
    pub fn say(&self) -> String {
        let head = match self.lines.len() {
            0 => "more is wrong:".to_owned(),
            n => format!("change {}; below each, how to write it:", count(n)),
        };
        format!("{head}{}", self.pairs())
    }

    /// What a copy with the corrected lines differs in.
    pub fn written(&self) -> String {
        let two = self.lines.iter().filter(|line| line.or.is_some()).map(|line| line.number.to_string());
        let two: Vec<String> = two.collect();
        let meant = match two.len() {
            0 => String::new(),
            1 => format!("; line {} may mean something else, see “or”", two[0]),
            _ => format!("; lines {} may mean something else, see “or”", two.join(", ")),
        };
        format!("{} changed{meant}:{}", count(self.lines.len()), self.pairs())
    }

    fn pairs(&self) -> String {
        let mut said = String::new();
        for line in self.lines.iter().take(SHOWN) {
            let stands = part(&line.stands, &line.write);
            let _ = write!(said, "\n{:>5}  {stands}\nwrite  {}", line.number, part(&line.write, &line.stands));
            if let Some(or) = &line.or {
                let _ = write!(said, "\n   or  {}", part(or, &line.stands));
            }
        }
        if self.lines.len() > SHOWN {
            let _ = write!(said, "\nand {} more", count(self.lines.len() - SHOWN));
        }
        for (line, wrong) in self.left.iter().take(SHOWN) {
            let _ = write!(said, "\nline {line}: {wrong}");
        }
        said
    }
}
