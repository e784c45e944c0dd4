//! The reference of the words of the script language, and the glossary.

use crate::command::terminal::set_in;
use crate::language::hints;
use crate::language::vocabulary::{meant, words};
use crate::language::word::{On, Word};
use crate::read::refusal::Refusal;
use crate::read::units::{UNITS, maybe, nearest};
use slipsoak_plots::page::lines::strong;
use slipsoak_plots::words::terms::TERMS;

/// The reference of all words or of one.
pub fn reference(asked: Option<&str>) -> Result<String, Refusal> {
    let Some(asked) = asked else { return Ok(all()) };
    // The word may be given as in a script: `ride.hold`.
    let asked = asked.rsplit('.').next().unwrap_or(asked);
    let found: Vec<&Word> = words().filter(|w| w.name() == asked).collect();
    let units = UNITS.iter().filter(|u| u.word == asked);
    let mut text: String = found.iter().map(|w| explain(w)).collect();
    text.extend(units.map(|u| format!("30.{0} or {0}(30)\n    {1}, as an SI value\n", u.word, u.meaning)));
    if text.is_empty() {
        // A unit of two letters is like too many words.
        let units = UNITS.iter().map(|u| u.word).filter(|word| word.len() > 2);
        let known = words().map(Word::name).chain(units);
        let meant = meant(asked, None).map(Word::name).or_else(|| hints::unit_word(asked)).map(str::to_owned);
        let near = maybe(meant.or_else(|| nearest(asked, known)).as_deref());
        return Err(Refusal::of_command(format!("there is no word `{asked}`{near}; `slipsoak words` lists all")));
    }
    Ok(text)
}

/// The glossary, or the terms with a word in name or meaning.
pub fn terms(asked: Option<&str>) -> Result<String, Refusal> {
    let word = asked.unwrap_or_default().to_lowercase();
    let told = TERMS.iter().filter(|t| [t.term, t.meaning].iter().any(|text| text.to_lowercase().contains(&word)));
    let text: String = told.flat_map(|t| [strong(t.term) + "\n", set_in(t.meaning, 4, 4)]).collect();
    if text.is_empty() {
        return Err(Refusal::of_command(format!("no term has `{word}` in its meaning; `slipsoak terms` lists all")));
    }
    Ok(text)
}

fn explain(word: &Word) -> String {
    let [meaning, example] = [word.meaning(), word.example].map(|text| set_in(text, 4, 4));
    let before = word.written().trim_end_matches(word.name());
    format!("{before}{}{}\n{meaning}{example}", strong(word.name()), word.arguments())
}

fn all() -> String {
    let mut text = String::new();
    for on in On::ALL {
        text += &strong(&format!("Words of a {}", on.name()));
        text.push_str("\n\n");
        text.extend(words().filter(|w| w.on() == on).map(explain));
        text.push('\n');
    }
    text += &strong("Unit words, after a number (30.s) or around it (s(30))");
    text.push_str("\n\nNumbers scale a quantity (2 * 30.s). No setting takes one of another kind.\n\n");
    text.extend(UNITS.iter().map(|u| format!("{:<9} {}\n", u.word, u.meaning)));
    text
}
