//! Detection of misspelt words before a script runs, also in code that would never run.

use crate::language::hints;
use crate::language::vocabulary::{WORDS, holds, readings};
use crate::read::units::{UNITS, nearest};
use rhai::{AST, ASTNode, Engine, Expr, FnCallExpr, Position, Stmt};
use std::collections::{BTreeMap, BTreeSet};
use thiserror::Error;

/// A word that the interpreter does not know.
#[derive(Clone, Debug, PartialEq, Error)]
#[allow(missing_docs)]
pub enum SpellingError {
    /// unknown function
    #[error("there is no word `{name}`")]
    Word { name: String, suggestion: Option<String>, position: Position },
    /// unknown property
    #[error("`.{name}` is neither a unit word nor a reading")]
    Property { name: String, suggestion: Option<String>, position: Position },
    /// a known word with the wrong number of arguments
    #[error("`{name}` was given {given} argument{}; it takes {takes}", if *given == 1 { "" } else { "s" })]
    Arguments { name: String, given: usize, takes: String, position: Position },
}

impl SpellingError {
    /// Its position.
    pub fn position(&self) -> Position {
        match self {
            Self::Word { position, .. } | Self::Property { position, .. } | Self::Arguments { position, .. } => {
                *position
            }
        }
    }

    /// Remedy.
    pub fn help(&self) -> String {
        match self {
            Self::Word { suggestion: Some(s), .. } => format!("did you mean `{s}`?"),
            Self::Property { suggestion: Some(s), .. } => format!("did you mean `.{s}`?"),
            Self::Word { .. } => "`slipsoak words` lists every word".to_owned(),
            Self::Property { .. } => {
                format!("unit words: {}", UNITS.iter().map(|u| u.word).collect::<Vec<_>>().join(", "))
            }
            Self::Arguments { name, .. } if name == "range" => "loops are written `for i in 0..60 { … }`".to_owned(),
            Self::Arguments { name, .. } if holds(name) => format!("`slipsoak words {name}` shows how it is used"),
            Self::Arguments { .. } => "give it as many as it takes".to_owned(),
        }
    }
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
    ast.walk(&mut |path: &[ASTNode]| {
        if let Some(ASTNode::Expr(Expr::Map(map, _))) = path.last() {
            known.properties.extend(map.0.iter().map(|(key, _)| key.name.to_string()));
        }
        true
    });
    known
}

/// Fails at the first unknown word.
pub fn check(engine: &Engine, ast: &AST) -> Result<(), SpellingError> {
    let known = known(engine, ast);
    let mut wrong = None;
    ast.walk(&mut |path: &[ASTNode]| {
        let found = match path.last() {
            Some(ASTNode::Expr(Expr::FnCall(call, at)) | ASTNode::Stmt(Stmt::FnCall(call, at))) => {
                function(&known, call, *at, false)
            }
            Some(ASTNode::Expr(Expr::MethodCall(call, at))) => function(&known, call, *at, true),
            Some(ASTNode::Expr(Expr::Property(property, at))) => {
                let name = property.2.as_str();
                (!known.properties.contains(name)).then(|| SpellingError::Property {
                    name: name.to_owned(),
                    suggestion: hints::unit_word(name).map(str::to_owned).or_else(|| {
                        nearest(name, UNITS.iter().map(|u| u.word).filter(|word| word.len() > 1).chain(readings()))
                    }),
                    position: *at,
                })
            }
            _ => None,
        };
        wrong = found;
        wrong.is_none()
    });
    wrong.map_or(Ok(()), Err)
}

fn function(known: &Known, call: &FnCallExpr, position: Position, method: bool) -> Option<SpellingError> {
    let name = call.name.as_str();
    if name == "Fn"
        && let Some(Expr::StringConstant(named, at)) = call.args.first()
        && !known.own.contains_key(named.as_str())
        && !known.counts.contains_key(named.as_str())
    {
        let suggestion = nearest(named, known.own.keys().filter(|n| !n.starts_with("anon$")).map(String::as_str));
        return Some(SpellingError::Word { name: named.to_string(), suggestion, position: *at });
    }
    if call.op_token.is_some() || CALLS.contains(&name) || !name.starts_with(|c: char| c.is_alphabetic() || c == '_') {
        return None;
    }
    let given = call.args.len();
    let count = given + usize::from(method);
    let counts = known.counts.get(name);
    let own = known.own.get(name);
    let elsewhere = own.is_none() && method && name == "sleep";
    if counts.is_none() && own.is_none() || elsewhere {
        // Words of this program first; those of the language only if nearly equal.
        let ours = WORDS.iter().map(|word| word.name).chain(known.own.keys().map(String::as_str));
        let ours: Vec<&str> = ours.filter(|n| !n.contains('$')).collect();
        let longer = |n: &&str| n.len() > 2 && n.starts_with(|c: char| c.is_alphabetic()) && !n.contains('$');
        let all = known.counts.keys().map(String::as_str).filter(longer);
        let close = nearest(name, all).filter(|near| slipsoak_engine::parts_file::similarity(near, name) > CLOSE);
        let suggestion = hints::meant(name).map(str::to_owned).or(close);
        let suggestion = suggestion.or_else(|| nearest(name, ours.iter().copied()));
        return Some(SpellingError::Word { name: name.to_owned(), suggestion, position });
    }
    if counts.is_some_and(|c| c.contains(&count)) || own.is_some_and(|c| c.contains(&given)) {
        return None;
    }
    let least = usize::from(method);
    let takes: BTreeSet<usize> = counts
        .into_iter()
        .flatten()
        .filter(|n| **n >= least)
        .map(|n| n - least)
        .chain(own.into_iter().flatten().copied())
        .collect();
    let takes = takes.iter().map(usize::to_string).collect::<Vec<_>>().join(" or ");
    Some(SpellingError::Arguments { name: name.to_owned(), given, takes, position })
}

/// Names of the parameters that a script uses.
pub fn parameters(ast: &AST) -> Vec<String> {
    let mut names = BTreeSet::new();
    ast.walk(&mut |path: &[ASTNode]| {
        if let Some(ASTNode::Expr(Expr::FnCall(call, _)) | ASTNode::Stmt(Stmt::FnCall(call, _))) = path.last()
            && call.name == "param"
            && let Some(Expr::StringConstant(name, _)) = call.args.first()
        {
            names.insert(name.to_string());
        }
        true
    });
    names.into_iter().collect()
}

/// Text literals of a script: file names may be among them.
pub fn texts(ast: &AST) -> BTreeSet<String> {
    let mut texts = BTreeSet::new();
    ast.walk(&mut |path: &[ASTNode]| {
        if let Some(ASTNode::Expr(Expr::StringConstant(text, _))) = path.last() {
            texts.insert(text.to_string());
        }
        true
    });
    texts
}
