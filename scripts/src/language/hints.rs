//! Suggestions for text that is not part of the script language: habits of other languages, units and brackets.

use crate::language::vocabulary::{meant, words, words_on};
use crate::language::word::{On, Word};
use crate::read::quantity::spelled;
use crate::read::units::{UNITS, nearest};
use slipsoak_engine::parts::{OILS, PARAMETERS};
use slipsoak_engine::parts_file::similarity;
use std::ops::Range;

/// Smallest similarity of a word to one of the same object, and to any other, for a suggestion.
const LIKE: [f64; 2] = [0.8, 0.9];

/// The name that is nearly equal, if any.
fn near<'a>(name: &str, names: impl Iterator<Item = &'a str>, like: f64) -> Option<String> {
    nearest(name, names).filter(|near| similarity(&near.to_lowercase(), &name.to_lowercase()) > like)
}

/// Remedy for a word that does not exist on an object; if the object is not known, on none. `names` are further names
/// that a script may use there.
pub fn unused<'a>(name: &str, on: Option<On>, names: impl Iterator<Item = &'a str>) -> String {
    let known = |name: &str, on| words_on(on).find(|word| word.name() == name);
    if let Some(reading) = on.filter(|on| *on != On::Script).and_then(|on| known(name, Some(on))) {
        return format!("`{name}` is written without brackets. For example: {}", reading.example);
    }
    let own = || words_on(on).map(|word| -> &'a str { word.name() });
    let close = || near(name, own().chain(names), LIKE[0]);
    if let Some(known_as) = meant(name, on).map(|word| word.name().to_owned()).or_else(close) {
        let example = known(&known_as, on).map_or(String::new(), |word| format!(" For example: {}", word.example));
        return format!("did you mean `{known_as}`?{example}");
    }
    let list = match on.filter(|on| *on != On::Script) {
        Some(on) => format!("words of a {}: {}", on.name(), own().collect::<Vec<_>>().join(", ")),
        None => "`slipsoak words` lists every word".to_owned(),
    };
    if matches!(name, "trace" | "recording") && on == Some(On::Ride) {
        return format!("a ride follows it: write `ride.follow({name}(…))`");
    }
    if let Some(word) = known(name, None) {
        return format!("`{name}` is used as `{}{}`; {list}", word.written(), word.arguments());
    }
    let elsewhere = || known(&near(name, words().map(Word::name), LIKE[1])?, None);
    match meant(name, None).or_else(elsewhere) {
        Some(word) => format!("did you mean `{}`? For example: {}", word.written(), word.example),
        None => list,
    }
}

/// The unit word for the text of a unit.
pub fn unit_word(text: &str) -> Option<&'static str> {
    let text = spelled(text);
    let found = UNITS.iter().find(|u| u.texts.contains(&text));
    found.or_else(|| UNITS.iter().find(|u| u.word == text)).map(|u| u.word)
}

/// The number at the end of a text.
pub fn number_before(text: &str) -> Option<&str> {
    let text = text.trim_end();
    let start = text.rfind(|c: char| !(c.is_ascii_digit() || c == '.')).map_or(0, |at| at + 1);
    // The character before it may have several bytes.
    text.get(start..).filter(|number| number.parse::<f64>().is_ok())
}

/// The name or unit at the start of a text.
pub fn word_after(text: &str) -> &str {
    let end = text.find(|c: char| !(c.is_alphanumeric() || "_/°%µ²^".contains(c))).unwrap_or(text.len());
    &text[..end]
}

/// Words of other languages for signs, and for words of two.
const SIGNS: [(&str, &str); 7] = [
    ("and", "“and” is written `&&`"),
    ("or", "“or” is written `||`"),
    ("not", "“not” is written `!`"),
    ("elif", "write `else if`"),
    ("foreach", LOOPS),
    ("repeat", LOOPS),
    ("new", "a machine is made by `machine(\"example\")`, without “new”"),
];

/// Parts of the interpreter's messages that have one remedy.
const UNREAD: [(&str, &str); 10] = [
    ("Expecting '{'", "a block stands in braces, without a colon: `for i in 0..60 { … }`, `if a > b { … }`"),
    ("Expecting body statement block", "a function stands in braces, without a colon: `fn day(ride) { … }`"),
    ("'++'", "write `i += 1`"),
    ("Expecting '}'", UNCLOSED),
    ("Script is incomplete", UNCLOSED),
    ("Expecting name of a variable", LOOPS),
    ("iterable", "write a range: `for i in 0..60 { … }`"),
    ("typo of '=='", "`=` sets a value, `==` compares two"),
    ("Invalid character", "a text stands in double quotes: \"SAE 30\""),
    ("'#'", "a comment begins with `//`"),
];
const LOOPS: &str = "loops are written `for i in 0..60 { … }`";
/// Remedy at the end of a statement.
pub const SEMICOLON: &str = "a semicolon is missing here: every statement ends with one";
const UNCLOSED: &str = "is a closing brace `}` missing at the end of a function or loop?";

/// Remedy for a text that is no valid script, and the place to show if it differs from the interpreter's.
pub fn unread(title: &str, text: &str, at: usize) -> (Option<String>, Option<Range<usize>>) {
    let (before, after) = text.split_at(at);
    let name = word_after(after);
    let help = |help: &str| (Some(help.to_owned()), None);
    let unit = |number: &str, unit: &str| {
        unit_word(unit).map(|word| format!("a unit stands behind a point: write {number}.{word}"))
    };
    if title.contains("iteration variable") {
        return help(LOOPS);
    }
    if let Some((_, remedy)) = SIGNS.iter().find(|sign| sign.0 == name) {
        return help(remedy);
    }
    if title.starts_with("Expecting ','") || title.starts_with("Expecting ')'") {
        if let Some(number) = number_before(before) {
            if let Some(help) = unit(number, name) {
                return (Some(help), None);
            }
            if after.starts_with(':') {
                return help("a ratio is one number: write 5.5, or 60.0 / 11");
            }
        }
        if number_before(before).is_some() && name.starts_with(char::is_alphabetic) {
            let known = UNITS.iter().map(|unit| unit.word).collect::<Vec<_>>().join(", ");
            return help(&format!("if `{name}` is a unit: units stand behind a point, as in `5.min`; units: {known}"));
        }
        // Further arguments and their bracket follow on the line.
        let line = after.lines().next().unwrap_or_default();
        if line.starts_with(';') && line.matches(')').count() > line.matches('(').count() {
            return help("a comma stands between arguments");
        }
        return match after.chars().next() {
            Some(';' | '}' | '{') | None => help("is a closing bracket `)` missing before it?"),
            _ => help("is a comma or a closing bracket `)` missing before it?"),
        };
    }
    if title.starts_with("Unexpected")
        && let Some(help) = number_before(before).and_then(|number| unit(number, name))
    {
        return (Some(help), None);
    }
    if title.starts_with("Expecting ';'") {
        let same_line = !before[before.trim_end().len()..].contains('\n');
        if let Some(help) = number_before(before).filter(|_| same_line).and_then(|number| unit(number, name)) {
            return (Some(help), None);
        }
        // The missing part belongs after the text before.
        let end = before.trim_end().len();
        let last = before[..end].chars().next_back().map_or(0, char::len_utf8);
        if matches!(before.split_whitespace().next_back(), Some("int" | "float" | "double" | "auto" | "final")) {
            return help(LET);
        }
        return (Some(SEMICOLON.to_owned()), Some(end - last..end));
    }
    if let Some((_, remedy)) = UNREAD.iter().find(|(part, _)| title.contains(part)) {
        return help(remedy);
    }
    if title.starts_with("Unexpected") || title.starts_with("Unknown operator") {
        if before.trim_end().ends_with('%')
            && let Some(number) = number_before(before.trim_end().trim_end_matches('%'))
        {
            return help(&format!("write {number}.percent"));
        }
        return match after.chars().next() {
            Some('“' | '”' | '„' | '‘' | '’' | '«' | '»') => {
                help("a text stands in straight quotes: \"SAE 30\"")
            }
            Some('.') => help("a number begins with a digit: write 0.5"),
            _ if after.starts_with("fn") => help("a function without a name is written `|ride| { … }`"),
            _ => help("the script language does not know this sign here"),
        };
    }
    if title.contains("reserved") {
        if let Some((_, remedy)) = FOREIGN.iter().find(|(names, _)| names.contains(&name)) {
            return help(remedy);
        }
        return match name {
            "print" | "debug" => help(&format!("what is printed stands in brackets: `{name}(\"…\");`")),
            "var" => help("a variable is made by `let`: `let a = 5;`"),
            _ => match meant(name, None).filter(|_| before.ends_with('.')) {
                Some(word) => help(&format!("did you mean `{}`?", word.name())),
                None => help(&format!(
                    "the script language keeps `{name}` for itself: choose another name, such as `my_{name}`"
                )),
            },
        };
    }
    if title.contains("Undefined variable") || title.contains("no variable") {
        return (Some(undefined(name, text, before, after)), None);
    }
    (None, None)
}

/// Words of other languages, and how this one says it.
const FOREIGN: [(&[&str], &str); 5] = [
    (&["def", "function", "func", "fun"], "a function is written `fn day(ride) { … }`"),
    (&["lambda"], "a function without a name is written `|ride| { … }`"),
    (&["from", "import", "export"], ONE_FILE),
    (&["None", "NULL", "undefined", "null", "nil", "void"], "there is no such value; leave it out"),
    (
        &["ride"],
        "the function of a duty is handed the ride: `fn day(ride) { … }` or `|ride| { … }`, and before `|` stands a comma",
    ),
];
const LET: &str = "a variable is made by `let`, whatever it holds: `let a = 5;`";
const ONE_FILE: &str = "a script is one file; parts, traces and recordings are read by `machine(\"name\")`, `trace(\"name\")`, `recording(\"name\")`";

/// Remedy for an undefined variable.
fn undefined(name: &str, text: &str, before: &str, after: &str) -> String {
    let name = name.split('/').next().unwrap_or_default();
    let slashed = before.rsplit('.').next().map(|unit| format!("{unit}{name}"));
    if let Some(word) = slashed.filter(|unit| unit.contains('/')).and_then(|unit| unit_word(&unit)) {
        return format!("write the unit as one word: .{word}");
    }
    let plain = |text: &str| text.replace(' ', "").to_lowercase();
    if let Some(oil) = OILS.iter().find(|oil| plain(oil.0) == plain(name)) {
        return format!("a name stands in quotes: \"{}\"", oil.0);
    }
    if let Some((_, remedy)) = FOREIGN.iter().find(|(names, _)| names.contains(&name)) {
        return (*remedy).to_owned();
    }
    match name {
        "int" | "float" | "double" | "auto" | "final" => return LET.to_owned(),
        "True" | "TRUE" | "False" | "FALSE" => return format!("write `{}`", name.to_lowercase()),
        "woven" | "moulded" | "sintered" | "example" | "standard" | "moderate" | "rental" | "hard" => {
            return format!("a name stands in quotes: \"{name}\"");
        }
        _ => {}
    }
    let rest = after.trim_start_matches(|c: char| c.is_alphanumeric() || c == '_').trim_start();
    let inside = before.matches('{').count() > before.matches('}').count();
    if let Some(p) = PARAMETERS.iter().find(|p| after.starts_with(p.path)) {
        return format!("a setting stands in quotes: \"{}\"", p.path);
    }
    if rest.starts_with(':') {
        return format!("options stand in `#{{ … }}`: `#{{ {name}: … }}`");
    }
    if text.contains(&format!("let {name} ")) || text.contains(&format!("let {name}=")) {
        return "a function sees its arguments only: hand values over, or ask `param(…)` inside it".to_owned();
    }
    if rest.starts_with('=') && !rest.starts_with("==") && before.trim_end().ends_with([',', '(']) {
        return format!("options are given as `#{{ {name}: … }}`");
    }
    if rest.starts_with('=') && !rest.starts_with("==") {
        return format!("a variable is made by `let`: `let {name} = …;`");
    }
    if inside {
        return "a function sees its arguments only: hand values over, or ask `param(…)` inside it; a text stands in quotes".to_owned();
    }
    format!("make it first, `let {name} = …;`, or put a text into quotes, \"{name}\"")
}
