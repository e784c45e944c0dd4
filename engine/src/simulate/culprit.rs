//! Search for the term at fault if a ledger does not close.

use super::ride::{Failure, Simulation};
use crate::document::record::{Ledger, Ledgers};
use crate::model::{Assembly, Book, Miss, Moment, Term};
use crate::names::{self, Entry};
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

impl Simulation {
    /// Fails if a ledger does not close.
    pub(super) fn check(&mut self, ledgers: &Ledgers) -> Result<(), Failure> {
        let all = ledgers.all();
        let Some((name, open)) = all.into_iter().find(|(_, l)| !(l.relative <= l.allowed)) else {
            return Ok(());
        };
        let book = match name {
            names::Book::Mechanics => Some(Book::Mechanics),
            names::Book::Chain => Some(Book::Chain),
            names::Book::Heat | names::Book::Clutch => Some(Book::Heat),
            names::Book::Oil => Some(Book::Oil),
            names::Book::Wear => None,
        };
        let culprit = match book {
            Some(book) => {
                let now = self.assembly.moment(self.time, &self.y, &self.worn);
                let seen: Vec<Moment> = std::mem::take(&mut self.assembly.moments).into_iter().chain([now]).collect();
                worst(&mut self.assembly, book, &seen, Assembly::terms)
            }
            None => self.worst_pair(),
        };
        let Ledger { residual, unit, relative, allowed, .. } = open.clone();
        Err(Failure::Ledger { ledger: name, residual, unit, relative, allowed, culprit: Box::new(culprit) })
    }

    fn worst_pair(&self) -> Culprit {
        let pairs = self.books.wear_by_pair(&self.assembly, &self.worn);
        let open = pairs.into_iter().max_by(|a, b| a.1.relative.total_cmp(&b.1.relative));
        open.map_or(Culprit::None, |(pair, l)| {
            let by_path: f64 = l.inward.values().sum();
            let by_depth: f64 = l.held.values().chain(l.outward.values()).sum();
            Culprit::Pair { pair, ratio: by_depth / by_path }
        })
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
    let mut others = vec![];
    for (miss, _) in found {
        if miss.term != term && !others.contains(&miss.term) {
            others.push(miss.term);
        }
    }
    let unit = if book == Book::Oil { "kg/s" } else { "W" };
    Culprit::Term { term, missing, unit, share, time, others }
}
