//! A mistake of a script, reported with its line, the value and the remedy.

use crate::error::{plain, shortened};
use crate::language::corrections::Corrections;
use crate::language::hints;
use crate::language::limits::LimitError;
use crate::language::plan::Duty;
use crate::language::spelling::SpellingError;
use crate::language::vocabulary::words_on;
use crate::language::word::On;
use crate::language::word_error::WordError;
use crate::read::script::Script;
use crate::read::units::{UNITS, maybe};
use annotate_snippets::{AnnotationKind, Group, Level, Snippet};
use rhai::{EvalAltResult, ParseError, Position};
use slipsoak_engine::simulate::Failure;
use thiserror::Error;

/// A mistake with its place in the script.
#[derive(Clone, Debug, PartialEq)]
pub struct Place {
    /// script's name
    pub script: String,
    /// script's text
    pub text: String,
    /// what is wrong
    pub title: String,
    /// affected bytes of the script, if any
    pub span: Option<std::ops::Range<usize>>,
    /// calls that led there: function and bytes
    pub trail: Vec<(String, std::ops::Range<usize>)>,
    /// remedy
    pub help: Option<String>,
    /// whether the engine could not compute a run, as opposed to a mistake in the script
    pub uncomputed: bool,
    /// all that is known to be wrong, and what to write instead
    pub corrections: Option<Corrections>,
}

/// A mistake of a script.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum ScriptError {
    /// a mistake at a place in the script
    #[error("{}", .0.title)]
    At(Box<Place>),
    /// an unknown parameter
    #[error("--set {name}: the script has no parameter `{name}`{}; {}", maybe(suggestion.as_deref()), parameters(name, known))]
    Parameter {
        /// as given
        name: String,
        /// nearest
        suggestion: Option<String>,
        /// all
        known: String,
    },
}

/// The parameters of a script, or how it gets one.
fn parameters(name: &str, known: &str) -> String {
    match known {
        "" => format!("it has none; `param(\"{name}\", 1)` in the script makes one"),
        known => format!("its parameters: {known}"),
    }
}

impl ScriptError {
    /// 2 if the command line is wrong, 1 if the script is.
    pub fn exit_code(&self) -> u8 {
        match self {
            Self::Parameter { .. } => 2,
            Self::At(_) => 1,
        }
    }

    /// Error of a text that is not a script.
    pub fn parse(script: &Script, error: &ParseError) -> Self {
        let title = error.err_type().to_string();
        let at = span(&script.text, error.position()).map_or(script.text.len(), |span| span.start);
        let (help, there) = hints::unread(&title, &script.text, at);
        let mut found = Self::place(script, &title, error.position(), &[], help);
        if let (Self::At(place), Some(there)) = (&mut found, there) {
            place.span = Some(there);
        }
        found
    }

    /// Error of an unknown word.
    pub fn spelling(script: &Script, error: &SpellingError) -> Self {
        Self::place(script, &error.title, error.position, &[], Some(error.help.clone()))
    }

    /// Error of a script while it runs.
    pub fn run(script: &Script, error: &EvalAltResult) -> Self {
        let (mut inner, mut trail) = (error, Vec::new());
        while let EvalAltResult::ErrorInFunctionCall(name, _, next, at) = inner {
            let name = if name.starts_with("anon$") { "a closure".to_owned() } else { format!("`{name}`") };
            trail.push((name, *at));
            inner = next;
        }
        let places = std::iter::once(inner.position()).chain(trail.iter().rev().map(|t| t.1));
        let position = places.into_iter().find(|at| !at.is_none()).unwrap_or(Position::NONE);
        let (title, help) = say(inner);
        trail.retain(|(_, at)| *at != position);
        trail.truncate(4);
        let mut found = Self::place(script, &title, position, &trail, help);
        if let Self::At(place) = &mut found {
            // The interpreter gives no position; the word that it names does.
            if let EvalAltResult::ErrorDataRace(what, _) = inner
                && let Some(word) = what.split('\'').nth(1).filter(|_| place.span.is_none())
            {
                let at = place.text.match_indices(&format!("{word}(")).map(|found| found.0).collect::<Vec<_>>();
                let line = |at: usize| place.text[..at].matches('\n').count() + 1;
                let lines = at.iter().map(|at| line(*at).to_string()).collect::<Vec<_>>().join(", ");
                place.span = at.first().map(|at| *at..at + word.len());
                if at.len() > 1 {
                    place.title = format!("{}, on one of the lines {lines}", place.title);
                }
            }
            place.uncomputed = uncomputed(inner);
        }
        found
    }

    /// What to write in the script, if that is known.
    pub fn corrections(&self) -> Option<&Corrections> {
        if let Self::At(place) = self { place.corrections.as_ref() } else { None }
    }

    /// Reason why a run could not be computed; none if the script, a file or a limit is the cause.
    pub fn uncomputed(&self) -> Option<&str> {
        match self {
            Self::At(place) if place.uncomputed => Some(&place.title),
            _ => None,
        }
    }

    /// The error, attributed to a run if it has no line in the script.
    #[must_use]
    pub fn in_run(self, machine: &str, duty: &str) -> Self {
        match self {
            Self::At(mut place) if place.uncomputed && place.span.is_none() => {
                place.title = format!("{machine} under {duty}: {}", place.title);
                Self::At(place)
            }
            other => other,
        }
    }

    /// Error of a script without any request, with its last line.
    pub fn nothing(script: &Script) -> Self {
        let last = script.text.lines().enumerate().filter(|(_, line)| !line.trim().is_empty()).last();
        let at = last.map_or(Position::NONE, |(k, line)| {
            let indent = line.chars().take_while(|c| c.is_whitespace()).count();
            Position::new(k as u16 + 1, indent as u16 + 1)
        });
        let help = "end it with `compare([machine, …], [duty(\"name\", Fn(\"function\")), …]);`".to_owned();
        Self::place(script, &format!("{} compares nothing", script.name), at, &[], Some(help))
    }

    /// The error, placed at the definition of a duty's function, or at the duty if that has none, if the interpreter gives no position.
    #[must_use]
    pub fn inside(self, duty: &Duty) -> Self {
        let Self::At(mut place) = self else {
            return self;
        };
        let function = duty.function.fn_name();
        let of = [(format!("fn {function}("), 3, function.len()), (format!("duty(\"{}\"", duty.name), 0, 4)];
        let found = of.iter().find_map(|(text, from, length)| Some((place.text.find(text)? + from, *length)));
        place.span = place.span.or_else(|| found.map(|(start, length)| start..start + length));
        Self::At(place)
    }

    fn place(script: &Script, title: &str, at: Position, trail: &[(String, Position)], help: Option<String>) -> Self {
        Self::At(Box::new(Place {
            script: script.name.clone(),
            text: script.text.clone(),
            title: shortened(&unnamed(title)),
            span: span(&script.text, at),
            trail: trail.iter().filter_map(|(name, at)| Some((name.clone(), span(&script.text, *at)?))).collect(),
            help,
            uncomputed: false,
            corrections: None,
        }))
    }

    /// The message with its title, and with the line of the script, if any.
    pub fn message<'a>(&'a self, title: &'a str) -> Group<'a> {
        let mut group = plain(title);
        let Self::At(place) = self else { return group };
        if let Some(span) = &place.span {
            let mut snippet = Snippet::source(place.text.as_str())
                .path(place.script.as_str())
                .annotation(AnnotationKind::Primary.span(span.clone()).label("here"));
            for (name, at) in &place.trail {
                snippet = snippet
                    .annotation(AnnotationKind::Context.span(at.clone()).label(format!("in {name}, called here")));
            }
            group = group.element(snippet);
        }
        if let Some(help) = &place.help {
            group = group.element(Level::HELP.message(help.as_str()));
        }
        if let Some(corrections) = &place.corrections {
            group = group.element(Level::HELP.message(corrections.say()));
            if corrections.left.is_empty() && corrections.lines.len() > 1 {
                let into =
                    format!("`slipsoak check {} --corrected NEW.rhai` writes them into a new file", place.script);
                group = group.element(Level::HELP.message(into));
            }
        }
        group
    }
}

/// The interpreter's name of a text.
const TEXT: &str = "&str | ImmutableString | String";

/// A message in which the interpreter's names of closures are replaced.
fn unnamed(text: &str) -> String {
    let mut parts = text.split("anon$");
    let first = parts.next().unwrap_or_default().to_owned();
    parts.fold(first, |all, part| all + "a closure" + part.trim_start_matches(|c: char| c.is_ascii_hexdigit()))
}

/// Whether the engine failed to compute a run; a number of the duty out of range is an error of the script.
fn uncomputed(error: &EvalAltResult) -> bool {
    let EvalAltResult::ErrorRuntime(value, _) = error else { return false };
    let refusal = value.clone().try_cast::<WordError>();
    matches!(refusal, Some(WordError::Engine(failure)) if !matches!(failure, Failure::Duty { .. }))
}

/// An error of the interpreter in this program's words, and the remedy.
fn say(error: &EvalAltResult) -> (String, Option<String>) {
    use EvalAltResult as E;
    match error {
        E::ErrorRuntime(value, _) => match value.clone().try_cast::<WordError>() {
            Some(refusal) => (refusal.to_string(), None),
            None => (format!("the script stopped with: {value}"), None),
        },
        E::ErrorTerminated(token, _) => match token.clone().try_cast::<LimitError>() {
            Some(stop) => (stop.to_string(), Some(stop.help().to_owned())),
            None => ("the script was stopped".to_owned(), None),
        },
        E::ErrorStackOverflow(_) => (
            "functions call each other more than 32 deep".to_owned(),
            Some("does a function call itself without an end? use a loop".to_owned()),
        ),
        E::ErrorMismatchDataType(wanted, given, _) if wanted == "string" && given == "Fn" => (
            "`Fn` is given a function".to_owned(),
            Some("the function's name stands in quotes: `Fn(\"day\")`".to_owned()),
        ),
        E::ErrorFunctionNotFound(call, _) if *call == format!("duty ({TEXT}, {TEXT})") => {
            let help = "a duty's function stands as `Fn(\"day\")`, or as a closure `|ride| { … }`".to_owned();
            (format!("`duty` cannot be used like this: {}", call.replace(TEXT, "text")), Some(help))
        }
        E::ErrorFunctionNotFound(call, _) => {
            let name = call.split(" (").next().unwrap_or(call).to_owned();
            let on = On::ALL.into_iter().find(|on| call.contains(&format!("({}", on.name())));
            let help = if words_on(on).any(|word| word.name() == name) || UNITS.iter().any(|unit| unit.word == name) {
                format!("`slipsoak words {name}` shows how it is used")
            } else if on.is_some() {
                hints::unused(&name, on, std::iter::empty())
            } else {
                format!(
                    "no `{name}` takes this many arguments, or such ones; `slipsoak words` lists the words of machines and rides"
                )
            };
            (format!("`{name}` cannot be used like this: {}", call.replace(TEXT, "text")), Some(help))
        }
        E::ErrorDotExpr(why, _) if why.starts_with("Unknown property") && why.ends_with("for type 'array'") => {
            let word = why.split('\'').nth(1).unwrap_or_default();
            let help =
                format!("each of the list needs it: `[1600.{word}, 1700.{word}]`, or `[1600, 1700].map(|n| n.{word})`");
            (format!("`.{word}` stands behind a list"), Some(help))
        }
        E::ErrorVariableNotFound(name, _) => (
            format!("there is no variable `{name}`"),
            Some("a function sees its arguments only: hand values over, or ask `param(…)` inside it".to_owned()),
        ),
        E::ErrorDataRace(what, _) => (
            format!("a value is used while it is being changed: {what}"),
            Some(if what.contains("'times'") {
                "hand the ride to the function: `ride.times(3, |ride| { … })`".to_owned()
            } else {
                "does a closure take it from outside, and is it put into it? keep them apart".to_owned()
            }),
        ),
        E::ErrorDataTooLarge(what, _) => {
            (format!("{what} is too large"), Some("arrays hold 10 000, maps 1 000, texts 10 000".to_owned()))
        }
        other => {
            let text = other.to_string();
            (text.split(" (line ").next().unwrap_or_default().chars().take(300).collect(), None)
        }
    }
}

/// The bytes of the word at a position.
fn span(text: &str, at: Position) -> Option<std::ops::Range<usize>> {
    let line = at.line()?;
    let start: usize = text.split_inclusive('\n').take(line - 1).map(str::len).sum();
    let rest = text.get(start..)?;
    let row = rest.split('\n').next().unwrap_or_default();
    let skip: usize = row.chars().take(at.position().unwrap_or(1) - 1).map(char::len_utf8).sum();
    let word = &row[skip..];
    let mut length = word.chars().take_while(|c| c.is_alphanumeric() || *c == '_').map(char::len_utf8).sum::<usize>();
    if length == 0 {
        length = word.chars().next().map_or(0, char::len_utf8);
    }
    Some(start + skip..start + skip + length)
}
