//! Search for the term at fault if a ledger does not close.

use crate::model::{Assembly, Book, Miss, Moment, Term};
use crate::names::{Entry, distinct};
use std::fmt;

/// The term at fault if a ledger does not close.
#[derive(Clone, Debug, PartialEq)]
pub enum Culprit {
    /// a term of the rates that does not balance by itself
    Term {
        /// its name
        term: &'static str,
        /// imbalance, W or kg/s
        missing: f64,
        /// unit
        unit: &'static str,
        /// imbalance relative to all that it moves
        share: f64,
        /// time, s
        time: f64,
        /// other terms that do not balance either
        others: Vec<&'static str>,
    },
    /// a rubbing pair whose depth and worn volume disagree
    Pair {
        /// its name
        pair: Entry,
        /// ratio of the worn volume by depth to that by force and sliding path
        ratio: f64,
    },
    /// every term balances by itself
    None,
}

impl fmt::Display for Culprit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Term { term, missing, unit, share, time, others } => {
                write!(
                    f,
                    "the term `{term}` does not balance by itself: {missing:.3e} {unit} at {time:.3} s, {share:.1e} of what it moves"
                )?;
                if !others.is_empty() {
                    write!(f, "; nor do: {}", others.join(", "))?;
                }
                Ok(())
            }
            Self::Pair { pair, ratio } => {
                write!(f, "the worn volume of the {pair} by its depth is {ratio:.6} of that by force and path")
            }
            Self::None => f.write_str(
                "every term balances by itself, so that the error lies in the stepping, a service or an entry of the book",
            ),
        }
    }
}

/// The worst term over the stored moments, and the others that do not balance.
pub(super) fn worst(
    assembly: &mut Assembly,
    book: Book,
    seen: &[Moment],
    terms: impl Fn(&Assembly, f64, &[f64], &[f64]) -> Vec<Term>,
) -> Culprit {
    let mut found: Vec<(Miss, f64)> = vec![];
    for at in seen {
        assembly.revisit(at);
        let terms = terms(assembly, at.time, &at.y, &at.slow);
        found.extend(assembly.misses(book, &at.y, &at.slow, &terms).into_iter().map(|miss| (miss, at.time)));
    }
    found.sort_by(|a, b| b.0.missing.abs().total_cmp(&a.0.missing.abs()));
    let Some((Miss { term, missing, share }, time)) = found.first().cloned() else {
        return Culprit::None;
    };
    let others = distinct(found.into_iter().map(|(miss, _)| miss.term).filter(|other| *other != term));
    let unit = if book == Book::Oil { "kg/s" } else { "W" };
    Culprit::Term { term, missing, unit, share, time, others }
}
