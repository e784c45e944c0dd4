//! Errors with enough detail to correct the mistake: line of the script, value, and remedy.

use crate::language::hints;
use crate::language::interpreter::Stop;
use crate::language::refusal::Refusal;
use crate::language::spelling::Misspelt;
use crate::language::vocabulary;
use crate::read::given;
use crate::read::units::maybe;
use annotate_snippets::{Annotation, AnnotationKind, Level, Renderer, Snippet};
use rhai::{EvalAltResult, ParseError, Position};
use slipsoak_engine::simulate::Failure;
use std::path::{Path, PathBuf};
use thiserror::Error;

/// Largest number of lines of a script: the interpreter counts no further, so a message would have no place.
const MOST_LINES: usize = 65_535;
/// Largest size of a script, bytes.
const MOST_BYTES: u64 = 2_000_000;
/// Largest length of a message, characters, including quotations.
const MESSAGE: usize = 3_000;

/// A script that has been read.
#[derive(Clone, Debug)]
pub struct Script {
    /// its path
    pub path: PathBuf,
    /// its name, without its folder
    pub name: String,
    /// its text
    pub text: String,
}

impl Script {
    /// Reads a script.
    pub fn read(path: &Path) -> Result<Self, Trouble> {
        let text = given::text(path, given::Kind::Script)?;
        let (lines, bytes) = (text.lines().count(), text.len() as u64);
        if lines > MOST_LINES || bytes > MOST_BYTES {
            return Err(Trouble::Long { path: path.to_owned(), lines, bytes });
        }
        let name = path.file_name().map_or_else(String::new, |n| n.to_string_lossy().into_owned());
        Ok(Self { path: path.to_owned(), name, text })
    }
}

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
}

/// Every error that ends a command.
#[derive(Clone, Debug, Error)]
pub enum Trouble {
    /// a mistake in the script
    #[error("{}", .0.title)]
    Script(Box<Place>),
    /// an error after the script had printed something
    #[error("{trouble}")]
    After {
        /// lines printed before
        printed: Vec<String>,
        /// the error
        trouble: Box<Trouble>,
    },
    /// an unreadable file of the command line
    #[error("{path} cannot be read: {why}")]
    Unreadable {
        /// path
        path: PathBuf,
        /// reason of the system
        why: String,
    },
    /// an unknown parameter
    #[error("--set {name}: the script has no parameter `{name}`{}; its parameters: {known}", maybe(suggestion.as_deref()))]
    Setting {
        /// as given
        name: String,
        /// nearest
        suggestion: Option<String>,
        /// all
        known: String,
    },
    /// an unknown word in a request for help
    #[error("there is no word `{given}`{}; `slipsoak words` lists all", maybe(suggestion.as_deref()))]
    Word {
        /// as given
        given: String,
        /// nearest
        suggestion: Option<String>,
    },
    /// an error of a setting or parts file
    #[error(transparent)]
    Unfit(#[from] crate::read::variant::Unfit),
    /// a quantity on the command line
    #[error("--set {path}: {source}")]
    Quantity {
        /// setting
        path: String,
        /// what is wrong
        source: crate::read::units::Unreadable,
    },
    /// an option of one of the shop's questions
    #[error(transparent)]
    Shop(#[from] crate::command::shop::Wrong),
    /// an error of the engine
    #[error(transparent)]
    Engine(#[from] slipsoak_engine::simulate::Failure),
    /// an error of writing the output
    #[error(transparent)]
    Output(#[from] crate::keep::output::Unwritten),
    /// an error of the journal of a long study
    #[error(transparent)]
    Journal(#[from] crate::keep::journal::Unjournalled),
    /// an error of a table of measurements or a recording
    #[error(transparent)]
    Measured(Box<crate::read::columns::Unreadable>),
    /// an error of a calibration
    #[error(transparent)]
    Learning(Box<crate::command::calibrate::Unlearned>),
    /// a fleet whose duty is not repeated
    #[error("a fleet is run to the end of its life: say how far, as in `duty(\"{duty}\", …).repeated(2000.hours)`")]
    Unrepeated {
        /// the duty
        duty: String,
    },
    /// a long study without a place for its journal
    #[error("a long study keeps a journal, so that it can be stopped and taken up again: say where with --out DIR")]
    NoOut,
    /// a share of something that is not divided
    #[error(
        "only a fleet, a sweep or what matters is run in parts, and {script} asks for none of them; run it without --share"
    )]
    NotDivided {
        /// script
        script: String,
    },
    /// too many items
    #[error(
        "this study takes {items} runs ({what}); the most allowed is {most}. At a tenth of a second each they would take {} on one \
         thread: ask for less, or put some of the machines into a script of their own",
        days(*items)
    )]
    Items {
        /// runs
        items: u64,
        /// allowed
        most: u64,
        /// cause of the number
        what: String,
    },
    /// a script that is too long
    #[error(
        "{path} has {lines} lines and {bytes} bytes; the most allowed of a script is {MOST_LINES} lines and {MOST_BYTES} bytes"
    )]
    Long {
        /// path
        path: PathBuf,
        /// lines
        lines: usize,
        /// bytes
        bytes: u64,
    },
    /// too many items of a long study that could not be computed
    #[error("{why}. {}", too_many(*count, *of, items))]
    Failing {
        /// reason of the first
        why: String,
        /// number of failed items, at least
        count: u64,
        /// number of items
        of: u64,
        /// name of the items
        items: &'static str,
    },
    /// an error in one item of a long study
    #[error("{item}: {trouble}")]
    Item {
        /// which
        item: String,
        /// what went wrong
        trouble: Box<Trouble>,
    },
    /// a bug of this program
    #[error(
        "slipsoak stumbled over a bug of its own: {what} ({place}). This is not your script's fault, and nothing was written. \
         Please report it with this message, the version (slipsoak {}), the command line and the script with its parts.",
        env!("CARGO_PKG_VERSION")
    )]
    Bug {
        /// description of the bug
        what: String,
        /// place in the program
        place: String,
    },
    /// threads cannot be started
    #[error("the threads cannot be started: {0}; try --threads 1")]
    Threads(String),
}

impl Trouble {
    /// 2 if the command line is wrong, 1 if a script or a value is.
    pub fn exit_code(&self) -> u8 {
        match self {
            Self::Setting { .. } | Self::Unreadable { .. } | Self::Word { .. } => 2,
            Self::Output(unwritten) => unwritten.exit_code(),
            Self::After { trouble, .. } | Self::Item { trouble, .. } => trouble.exit_code(),
            Self::Learning(unlearned) => unlearned.exit_code(),
            Self::NoOut | Self::NotDivided { .. } => 2,
            _ => 1,
        }
    }

    /// Error of a text that is not a script.
    pub fn parse(script: &Script, error: &ParseError) -> Self {
        let title = error.err_type().to_string();
        let at = span(&script.text, error.position()).map_or(script.text.len(), |span| span.start);
        let (help, there) = hints::unread(&title, &script.text, at);
        let mut trouble = Self::place(script, &title, error.position(), &[], help);
        if let (Self::Script(place), Some(there)) = (&mut trouble, there) {
            place.span = Some(there);
        }
        trouble
    }

    /// Error of an unknown word.
    pub fn spelling(script: &Script, error: &Misspelt) -> Self {
        Self::place(script, &error.to_string(), error.position(), &[], Some(error.help()))
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
        let mut trouble = Self::place(script, &title, position, &trail, help);
        if let Self::Script(place) = &mut trouble {
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
        trouble
    }

    /// Reason why a run could not be computed; none if the script, a file or a limit is the cause.
    pub fn uncomputed(&self) -> Option<&str> {
        match self {
            Self::Script(place) if place.uncomputed => Some(&place.title),
            Self::Item { trouble, .. } => trouble.uncomputed(),
            _ => None,
        }
    }

    /// The error, attributed to one item of a long study.
    #[must_use]
    pub fn of(self, item: String) -> Self {
        Self::Item { item, trouble: Box::new(self) }
    }

    /// The error, attributed to a run if it has no line in the script.
    #[must_use]
    pub fn in_run(self, machine: &str, duty: &str) -> Self {
        match self {
            Self::Script(mut place) if place.uncomputed && place.span.is_none() => {
                place.title = format!("{machine} under {duty}: {}", place.title);
                Self::Script(place)
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

    /// The error, with the text printed before.
    #[must_use]
    pub fn after(self, mut printed: Vec<String>) -> Self {
        match self {
            trouble if printed.is_empty() => trouble,
            Self::After { printed: then, trouble } => {
                printed.extend(then);
                Self::After { printed, trouble }
            }
            trouble => Self::After { printed, trouble: Box::new(trouble) },
        }
    }

    /// The error, placed at a function's definition if the interpreter gives no position.
    #[must_use]
    pub fn inside(self, function: &str) -> Self {
        let Self::Script(mut place) = self else {
            return self;
        };
        if place.span.is_none()
            && let Some(start) = place.text.find(&format!("fn {function}("))
        {
            place.span = Some(start + 3..start + 3 + function.len());
        }
        Self::Script(place)
    }

    fn place(script: &Script, title: &str, at: Position, trail: &[(String, Position)], help: Option<String>) -> Self {
        Self::Script(Box::new(Place {
            script: script.name.clone(),
            text: script.text.clone(),
            title: shortened(&unnamed(title)),
            span: span(&script.text, at),
            trail: trail.iter().filter_map(|(name, at)| Some((name.clone(), span(&script.text, *at)?))).collect(),
            help,
            uncomputed: false,
        }))
    }

    /// The whole message, with the text printed before and the line of the script, if any.
    pub fn render(&self, colour: bool) -> String {
        if let Self::After { printed, trouble } = self {
            return format!("{}\n{}", printed.join("\n"), trouble.render(colour));
        }
        let renderer = if colour { Renderer::styled() } else { Renderer::plain() };
        let Self::Script(place) = self else {
            return renderer.render(&[Level::ERROR.primary_title(shortened(&self.to_string())).elements(NOTHING)]);
        };
        let mut group = Level::ERROR.primary_title(place.title.as_str()).elements(NOTHING);
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
        renderer.render(&[group])
    }
}

const NOTHING: [Snippet<'static, Annotation<'static>>; 0] = [];

/// A message shortened in the middle if it is too long to be read.
fn shortened(text: &str) -> String {
    let count = text.chars().count();
    if count <= MESSAGE {
        return text.to_owned();
    }
    let (head, tail) = (MESSAGE / 2, count - MESSAGE / 2);
    let (first, last): (String, String) = (text.chars().take(head).collect(), text.chars().skip(tail).collect());
    format!("{first} … [{} characters left out] … {last}", count - MESSAGE)
}

/// A message in which the interpreter's names of closures are replaced.
fn unnamed(text: &str) -> String {
    let mut parts = text.split("anon$");
    let first = parts.next().unwrap_or_default().to_owned();
    parts.fold(first, |all, part| all + "a closure" + part.trim_start_matches(|c: char| c.is_ascii_hexdigit()))
}

/// Whether the engine failed to compute a run; a number of the duty out of range is an error of the script.
fn uncomputed(error: &EvalAltResult) -> bool {
    let EvalAltResult::ErrorRuntime(value, _) = error else { return false };
    let refusal = value.clone().try_cast::<Refusal>();
    matches!(refusal, Some(Refusal::Engine(failure)) if !matches!(failure, Failure::Duty { .. }))
}

/// Message of a study that ends because too many items failed.
fn too_many(count: u64, of: u64, items: &str) -> String {
    if of == 1 {
        return "Without this run there is nothing to compare the others with".to_owned();
    }
    format!(
        "{count} of {of} {items} or more could not be computed: a study leaves out a tenth at most; bring the settings that \
         are spread or varied closer to their defaults"
    )
}

/// Duration of this number of runs at a tenth of a second each.
fn days(items: u64) -> String {
    let days = items as f64 / 864_000.0;
    if days < 1000.0 { format!("{days:.0} days") } else { format!("{:.0} years", days / 365.25) }
}

/// An error of the interpreter in this program's words, and the remedy.
fn say(error: &EvalAltResult) -> (String, Option<String>) {
    use EvalAltResult as E;
    match error {
        E::ErrorRuntime(value, _) => match value.clone().try_cast::<Refusal>() {
            Some(refusal) => (refusal.to_string(), None),
            None => (format!("the script gave up: {value}"), None),
        },
        E::ErrorTerminated(token, _) => match token.clone().try_cast::<Stop>() {
            Some(stop) => (stop.to_string(), Some(stop.help().to_owned())),
            None => ("the script was stopped".to_owned(), None),
        },
        E::ErrorStackOverflow(_) => (
            "functions call each other more than 32 deep".to_owned(),
            Some("does a function call itself without an end? use a loop".to_owned()),
        ),
        E::ErrorFunctionNotFound(call, _) => {
            let name = call.split(" (").next().unwrap_or(call).to_owned();
            let help = if let Some(meant) = hints::meant(&name) {
                format!("did you mean `{meant}`?")
            } else if vocabulary::holds(&name) {
                format!("`slipsoak words {name}` shows how it is used")
            } else if call.contains("(machine") {
                "that is a word for lists and texts; `machine.having(setting, value)` changes a setting of a machine"
                    .to_owned()
            } else {
                format!("no `{name}` takes so many, or such; `slipsoak words` lists the words of machines and rides")
            };
            (
                format!(
                    "`{name}` cannot be used like this: {}",
                    call.replace("&str | ImmutableString | String", "text")
                ),
                Some(help),
            )
        }
        E::ErrorVariableNotFound(name, _) => (
            format!("there is no variable `{name}`"),
            Some("a function sees its arguments only: hand values over, or ask `param(…)` inside it".to_owned()),
        ),
        E::ErrorDataRace(what, _) => (
            format!("a value is used while it is being changed: {what}"),
            Some("does a closure take it from outside, and is it put into it? keep them apart".to_owned()),
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
