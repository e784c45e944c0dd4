//! Finds all that is wrong in a refused script: mends one mistake after another in a copy whose lines stay where they are, as
//! long as their remedies are known.

use crate::language::code::{arguments, closing, line, masked, named, outermost};
use crate::language::corrections::{Corrections, Line};
use crate::language::interpreter::Interpreter;
use crate::language::limits::{Limits, Spent};
use crate::language::repairs::{self, Edit};
use crate::language::script_error::{Place, ScriptError};
use crate::read::script::Script;
use std::collections::BTreeMap;
use std::ops::Range;
use std::sync::Arc;

/// Most mistakes that are mended.
const MOST: usize = 100;
/// Operations of the interpreter for each try.
const OPERATIONS: u64 = 2_000_000;

/// The error with every mistake that is known and how to mend it.
pub(crate) fn corrected(
    error: ScriptError,
    script: &Script,
    settings: &BTreeMap<String, f64>,
    limits: &Limits,
) -> ScriptError {
    let ScriptError::At(mut place) = error else { return error };
    if !place.uncomputed {
        place.corrections = corrections(script, settings, limits, &place);
    }
    ScriptError::At(place)
}

/// The mistake that refuses a script; none if it is in order, or if what refuses it is no mistake of its text.
fn mistake(script: &Script, settings: &BTreeMap<String, f64>, limits: &Limits) -> Option<Box<Place>> {
    let tried = || {
        let interpreter = Interpreter::new(script, settings, limits.clone())?;
        let plan = interpreter.plan()?;
        plan.pairs.iter().try_for_each(|pair| interpreter.record(pair).map(drop))
    };
    match tried() {
        Err(ScriptError::At(place)) => Some(place),
        _ => None,
    }
}

fn changed(text: &str, edits: &[Edit]) -> String {
    let mut edits: Vec<&Edit> = edits.iter().collect();
    edits.sort_by_key(|edit| edit.at.start);
    let mut text = text.to_owned();
    for edit in edits.iter().rev() {
        text.replace_range(edit.at.clone(), &edit.write);
    }
    text
}

/// The line of a mistake, from 0, and its byte.
fn at(place: &Place) -> Option<(usize, usize)> {
    let start = place.span.as_ref()?.start;
    Some((place.text[..start].matches('\n').count(), start))
}

/// Whether a mistake is the same wherever it stands: it is said once.
fn said_once(place: &Place) -> bool {
    place.title == "Undefined variable: ride"
}

/// Whether a mistake may be there only because something is left out: of a call on a ride, the ride itself stays.
fn follows(place: &Place) -> bool {
    place.title.contains("takes no time") || place.title.ends_with("not a ride") || compares_nothing(place)
}

fn compares_nothing(place: &Place) -> bool {
    place.title.ends_with("compares nothing")
}

/// What can be left out to look for mistakes beyond this one, and what stands for it: its statement, the call behind a point that is
/// refused, a machine that is not there, or the block outside of every function in which a ride is wanted.
fn around(place: &Place) -> Option<(Range<usize>, &'static str)> {
    if compares_nothing(place) {
        return None;
    }
    let span = place.span.clone()?;
    let code = masked(&place.text);
    let row = line(&place.text, span.start);
    let own = code[row.clone()].trim();
    let whole = own.ends_with([';', ')']) && closing(own, 0).is_none() && !own.contains(['=', '|', '{']);
    if whole && own.starts_with(named) && !own.starts_with("compare") {
        return Some((row, ""));
    }
    let behind = code[..span.start].ends_with('.');
    if let Some(call) = arguments(&code, &span).filter(|_| behind || place.title.starts_with("there is no machine")) {
        let (start, instead) = if behind { (span.start - 1, "") } else { (span.start, "machine(\"example\")") };
        return Some((start..call.end + 1, instead));
    }
    let open = outermost(&code[..span.start]).filter(|_| said_once(place))?;
    let head = line(&code, open).start;
    (!code[head..open].trim_start().starts_with("fn ")).then(|| Some((head..closing(&code, open + 1)? + 1, "")))?
}

/// Stands for a part of a script that is left out, on as many lines.
fn left_out(number: usize, part: &str) -> String {
    format!("/*\u{1}{number}{}*/", "\n".repeat(part.matches('\n').count()))
}

/// Corrections from the first mistake on.
fn corrections(
    script: &Script,
    settings: &BTreeMap<String, f64>,
    limits: &Limits,
    first: &Place,
) -> Option<Corrections> {
    let limits =
        Limits { operations: limits.operations.min(OPERATIONS), spent: Arc::new(Spent::default()), ..limits.clone() };
    let next = |text: &str| mistake(&Script { text: text.to_owned(), ..script.clone() }, settings, &limits);
    let (mut text, mut mistake) = (script.text.clone(), Some(Box::new(first.clone())));
    let (mut others, mut left) = (vec![], Vec::<(usize, String)>::new());
    let mut out: Vec<(String, String)> = vec![];
    for _ in 0..MOST {
        // What is left out may be all that a duty does, or all that the script asks.
        let Some(place) = mistake.filter(|place| out.is_empty() || !follows(place)) else { break };
        let tried = repairs::of(&place).into_iter().map(|edits| {
            let text = changed(&text, &edits);
            (edits, next(&text), text)
        });
        let usable = tried.filter(|(_, next, _)| {
            next.as_ref().is_none_or(|next| (&next.title, at(next)) != (&place.title, at(&place)))
        });
        let mut usable: Vec<_> = usable.collect();
        let here = at(&place).map(|at| at.0);
        // A way that mends the whole line is better than one after which something else is wrong there.
        let whole = |next: &Option<Box<Place>>| next.as_ref().is_none_or(|next| at(next).map(|at| at.0) != here);
        let best = usable.iter().position(|(_, next, _)| whole(next)).unwrap_or(0);
        if usable.is_empty() {
            let wrong = wrong(&place);
            if !(said_once(&place) && left.iter().any(|left| left.1 == wrong)) {
                left.push((here.unwrap_or_default(), wrong));
            }
            let Some((part, instead)) = around(&place) else { break };
            let mark = format!("{instead}{}", left_out(out.len(), &text[part.clone()]));
            out.push((mark.clone(), text[part.clone()].to_owned()));
            text.replace_range(part, &mark);
            mistake = next(&text);
            continue;
        }
        let (edits, next, mended) = usable.swap_remove(best);
        let meanings = edits.iter().filter_map(|edit| Some((edit.write.clone(), edit.or.clone()?)));
        others.extend(meanings.map(|(this, or)| (here, this, or)));
        (text, mistake) = (mended, next);
    }
    for (mark, part) in out.iter().rev() {
        text = text.replacen(mark, part, 1);
    }
    let pairs = script.text.lines().zip(text.lines()).enumerate().filter(|(_, (stands, write))| stands != write);
    let lines = pairs.map(|(k, (stands, write))| {
        let other = others.iter().find(|other| other.0 == Some(k));
        let or = other.map(|(_, this, or)| write.replacen(this, or, 1));
        Line { number: k + 1, stands: stands.to_owned(), write: write.to_owned(), or }
    });
    let lines: Vec<Line> = lines.collect();
    // What the message begins with is not repeated.
    let begins = (at(first).unwrap_or_default().0, wrong(first));
    let left = left.into_iter().filter(|left| *left != begins).map(|(line, wrong)| (line + 1, wrong));
    let left: Vec<(usize, String)> = left.collect();
    let more = !lines.is_empty() || !left.is_empty();
    more.then_some(Corrections { text, lines, left })
}

/// What is wrong at a place, and the remedy.
fn wrong(place: &Place) -> String {
    let help = place.help.as_deref().map_or_else(String::new, |help| format!("; {help}"));
    format!("{}{help}", place.title)
}
