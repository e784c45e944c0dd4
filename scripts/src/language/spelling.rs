//! Detection of misspelt words before a script runs, also in code that would never run.

use crate::language::hints;
use crate::language::vocabulary::{meant, words, words_on};
use crate::language::word::{On, Word};
use crate::read::units::{UNITS, nearest};
use rhai::{AST, ASTNode, Engine, Expr, FnCallExpr, Position, Stmt};
use slipsoak_engine::parts_file::similarity;
use std::collections::{BTreeMap, BTreeSet};
use thiserror::Error;

/// A word that the interpreter does not know, or that is used wrongly.
#[derive(Clone, Debug, PartialEq, Error)]
#[error("{title}")]
pub struct SpellingError {
    /// what is wrong
    pub title: String,
    /// remedy
    pub help: String,
    /// where
    pub position: Position,
}

/// Smallest similarity to a word of the language itself for a suggestion.
const CLOSE: f64 = 0.9;

/// Keywords that look like calls.
const CALLS: &[&str] =
    &["Fn", "call", "curry", "is_def_var", "is_def_fn", "is_shared", "type_of", "print", "debug", "this", "exit"];

#[derive(Default)]
struct Known {
    counts: BTreeMap<String, BTreeSet<usize>>,
    own: BTreeMap<String, BTreeSet<usize>>,
    properties: BTreeSet<String>,
    /// what variables hold, as far as the text says
    objects: BTreeMap<String, On>,
}

impl Known {
    /// The object that an expression gives, as far as the text says.
    fn object(&self, expression: &Expr) -> Option<On> {
        match expression {
            Expr::Variable(x, ..) => self.objects.get(x.1.as_str()).copied(),
            Expr::FnCall(call, _) => On::ALL.into_iter().find(|on| call.name == on.name()),
            Expr::Dot(x, ..) => self.object(&x.rhs),
            Expr::MethodCall(call, _) => {
                let made = words().find(|word| word.name() == call.name.as_str())?.on();
                matches!(made, On::Machine | On::Duty).then_some(made)
            }
            _ => None,
        }
    }

    /// The object on which the last node of a path is used.
    fn used_on(&self, path: &[ASTNode]) -> Option<On> {
        let Some(&ASTNode::Expr(mut node)) = path.last() else { return None };
        for ancestor in path.iter().rev().skip(1) {
            let ASTNode::Expr(dot @ Expr::Dot(x, ..)) = ancestor else { break };
            if !std::ptr::eq(&raw const x.lhs, node) {
                return self.object(&x.lhs);
            }
            // A chain is nested to the right.
            node = dot;
        }
        None
    }
}

fn known(engine: &Engine, ast: &AST) -> Known {
    let mut known = Known::default();
    let functions = engine.collect_fn_metadata(None, |f| Some((f.metadata.name.clone(), f.metadata.num_params)), true);
    for (name, count) in functions {
        match name.strip_prefix("get$").or_else(|| name.strip_prefix("set$")) {
            Some(property) => drop(known.properties.insert(property.to_owned())),
            None => drop(known.counts.entry(name.to_string()).or_default().insert(count)),
        }
    }
    for function in ast.iter_functions() {
        known.own.entry(function.name.to_owned()).or_default().insert(function.params.len());
    }
    known.objects.insert("ride".to_owned(), On::Ride);
    let mut called = BTreeSet::new();
    ast.walk(&mut |path: &[ASTNode]| {
        match path.last() {
            Some(ASTNode::Expr(Expr::Map(map, _))) => {
                known.properties.extend(map.0.iter().map(|(key, _)| key.name.to_string()));
            }
            Some(ASTNode::Stmt(Stmt::Var(x, ..))) => {
                let object = known.object(&x.1);
                known.objects.extend(object.map(|object| (x.0.name.to_string(), object)));
            }
            Some(ASTNode::Expr(Expr::FnCall(call, _))) if call.name == "Fn" => {
                called.extend(call.args.first().and_then(constant).map(str::to_owned));
            }
            _ => {}
        }
        true
    });
    // The last argument of a closure, or of a function that is handed over by its name, is most often a ride.
    for function in ast.iter_functions().filter(|f| f.name.starts_with("anon$") || called.contains(f.name)) {
        if let Some(name) = function.params.last() {
            known.objects.entry((*name).to_owned()).or_insert(On::Ride);
        }
    }
    known
}

fn constant(expression: &Expr) -> Option<&str> {
    if let Expr::StringConstant(text, _) = expression { Some(text) } else { None }
}

/// Fails at the first unknown word.
pub fn check(engine: &Engine, ast: &AST) -> Result<(), SpellingError> {
    let known = known(engine, ast);
    let mut wrong = None;
    ast.walk(&mut |path: &[ASTNode]| {
        wrong = match path.last() {
            Some(ASTNode::Expr(Expr::FnCall(call, at)) | ASTNode::Stmt(Stmt::FnCall(call, at))) => {
                function(&known, call, *at, false, Some(On::Script))
            }
            Some(ASTNode::Expr(Expr::MethodCall(call, at))) => function(&known, call, *at, true, known.used_on(path)),
            Some(ASTNode::Expr(Expr::Property(property, at))) if !known.properties.contains(property.2.as_str()) => {
                let name = property.2.as_str();
                let title = format!("`.{name}` is neither a unit word nor a reading");
                Some(SpellingError { title, help: unread(name, known.used_on(path)), position: *at })
            }
            _ => None,
        };
        wrong.is_none()
    });
    wrong.map_or(Ok(()), Err)
}

/// Remedy for an unknown property.
fn unread(name: &str, on: Option<On>) -> String {
    let units = || UNITS.iter().map(|unit| unit.word);
    let readings = || words().filter(|word| word.arguments().is_empty() && on.is_none_or(|on| word.on() == on));
    let near = || nearest(name, units().filter(|word| word.len() > 1).chain(readings().map(Word::name)));
    if let Some(near) = hints::unit_word(name).map(str::to_owned).or_else(near) {
        return format!("did you mean `.{near}`?");
    }
    if let Some(word) = on.and_then(|_| words_on(on).find(|word| word.name() == name)) {
        return format!("it takes arguments: `{}{}`", word.written(), word.arguments());
    }
    if on == Some(On::Ride) {
        let readings = readings().map(|word| format!("`{}`", word.written())).collect::<Vec<_>>().join(", ");
        return format!(
            "a ride is read by {readings}, `ride.celsius(\"bushing\")` and `ride.reading(\"lining wear\")`"
        );
    }
    format!("unit words: {}", units().collect::<Vec<_>>().join(", "))
}

fn function(
    known: &Known,
    call: &FnCallExpr,
    position: Position,
    method: bool,
    on: Option<On>,
) -> Option<SpellingError> {
    let name = call.name.as_str();
    let unknown = |name: &str, help: String, position| {
        Some(SpellingError { title: format!("there is no word `{name}`"), help, position })
    };
    let own = known.own.keys().map(String::as_str).filter(|name| !name.contains('$'));
    if name == "Fn"
        && let Some(Expr::StringConstant(named, at)) = call.args.first()
        && !known.own.contains_key(named.as_str())
        && !known.counts.contains_key(named.as_str())
    {
        let all: Vec<&str> = own.collect();
        // Where there is one function, it is meant.
        let near = if let [one] = all[..] { Some(one.to_owned()) } else { nearest(named, all) };
        let help =
            near.map_or("`slipsoak words` lists every word".to_owned(), |near| format!("did you mean `{near}`?"));
        return unknown(named, help, *at);
    }
    if call.op_token.is_some() || CALLS.contains(&name) || !name.starts_with(|c: char| c.is_alphabetic() || c == '_') {
        return None;
    }
    let given = call.args.len();
    let count = given + usize::from(method);
    let (counts, mine) = (known.counts.get(name), known.own.get(name));
    // Some words of the interpreter itself are no words of a machine, duty or ride.
    let fits = counts.is_some_and(|c| c.contains(&count)) || mine.is_some_and(|c| c.contains(&given));
    let foreign =
        || on.is_some_and(|on| words_on(Some(on)).all(|word| word.name() != name)) && meant(name, on).is_some();
    if mine.is_none() && (counts.is_none() || method && (name == "sleep" || !fits && foreign())) {
        // A word of the language itself only if it is nearly equal.
        let close = known.counts.keys().map(String::as_str).filter(|other| {
            other.len() > 2
                && other.starts_with(char::is_alphabetic)
                && !other.contains('$')
                && similarity(other, name) > CLOSE
        });
        let text = matches!(call.args.first(), Some(Expr::StringConstant(..)));
        if on == Some(On::Ride) && text && ["temperature", "temp"].contains(&name) {
            return unknown(name, "did you mean `celsius`? It reads a temperature in °C".to_owned(), position);
        }
        let language = close.filter(|_| on.is_none_or(|on| on == On::Script));
        return unknown(name, hints::unused(name, on, own.chain(language)), position);
    }
    if fits {
        return None;
    }
    let word = words().find(|word| word.name() == name);
    if word.is_some() && (!method || on.is_some()) && words_on(on).all(|word| word.name() != name) {
        let by = on.filter(|_| method).map_or("by itself".to_owned(), |on| format!("of a {}", on.name()));
        let title = format!("`{name}` is no word {by}");
        return Some(SpellingError { title, help: hints::unused(name, on, own), position });
    }
    let least = usize::from(method);
    let takes: BTreeSet<usize> = counts
        .into_iter()
        .flatten()
        .filter(|n| **n >= least)
        .map(|n| n - least)
        .chain(mine.into_iter().flatten().copied())
        .collect();
    let takes = takes.iter().map(usize::to_string).collect::<Vec<_>>().join(" or ");
    let plural = if given == 1 { "" } else { "s" };
    let help = match word {
        _ if name == "range" => "loops are written `for i in 0..60 { … }`".to_owned(),
        _ if name == "brake" && given == 0 => "for an easy stop, at 1.5 m/s², write `brake(1.5)`".to_owned(),
        Some(word) => {
            let used = format!("{}{}", word.written(), word.arguments());
            format!("it is used as `{used}`, for example: {}", word.example)
        }
        None => "give it as many as it takes".to_owned(),
    };
    Some(SpellingError {
        title: format!("`{name}` was given {given} argument{plural}; it takes {takes}"),
        help,
        position,
    })
}

/// Names of the parameters that a script uses.
pub fn parameters(ast: &AST) -> Vec<String> {
    let mut names = BTreeSet::new();
    ast.walk(&mut |path: &[ASTNode]| {
        if let Some(ASTNode::Expr(Expr::FnCall(call, _)) | ASTNode::Stmt(Stmt::FnCall(call, _))) = path.last()
            && call.name == "param"
        {
            names.extend(call.args.first().and_then(constant).map(str::to_owned));
        }
        true
    });
    names.into_iter().collect()
}

/// Text literals of a script: file names may be among them.
pub fn texts(ast: &AST) -> BTreeSet<String> {
    let mut texts = BTreeSet::new();
    ast.walk(&mut |path: &[ASTNode]| {
        if let Some(ASTNode::Expr(expression)) = path.last() {
            texts.extend(constant(expression).map(str::to_owned));
        }
        true
    });
    texts
}
