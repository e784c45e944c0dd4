//! Checks of a duty's numbers and of a run's result.

use super::culprit::{Culprit, worst};
use super::failure::Failure;
use super::simulation::Simulation;
use crate::document::record::{Ledger, Ledgers};
use crate::duty::{self, End};
use crate::model::{Assembly, Book, MECHANICS, Moment, Term, called, state};
use crate::names;
use crate::parts::{Machine, PARAMETERS};

/// Terms of the rates at a time with states and slow quantities.
type Terms = fn(&Assembly, f64, &[f64], &[f64]) -> Vec<Term>;

/// Share of a ledger's residual below which a term that misses this much all the time is no cause of it: at a standstill a
/// term moves no more than rounding.
const NEGLIGIBLE: f64 = 1e-3;

/// Negative oil mass that exceeds rounding, as a share of a full bushing.
const BELOW_NOTHING: f64 = 1e-9;

impl Simulation {
    /// Fails if a ledger does not close.
    pub(super) fn check(&mut self, ledgers: &Ledgers) -> Result<(), Failure> {
        #[cfg(feature = "peers")]
        if self.other.is_some() {
            return Ok(());
        }
        self.check_by(ledgers, Assembly::terms)
    }

    /// As [`check`](Self::check), by these terms of the rates.
    ///
    /// What the mechanical ledgers miss follows from the tolerance of the steps, and so does what is allowed. Where it is more
    /// than at the close tolerance, each term of the rates has to balance by itself as well: a wrong law is found at any
    /// tolerance.
    pub(super) fn check_by(&mut self, ledgers: &Ledgers, terms: Terms) -> Result<(), Failure> {
        for (name, open) in ledgers.all() {
            let closes = open.relative <= open.allowed;
            let book = match name {
                names::Book::Mechanics => Some(Book::Mechanics),
                names::Book::Chain => Some(Book::Chain),
                names::Book::Heat | names::Book::Clutch => Some(Book::Heat),
                names::Book::Oil => Some(Book::Oil),
                names::Book::Wear => None,
            };
            let mechanical = matches!(name, names::Book::Mechanics | names::Book::Chain);
            if closes && !(mechanical && open.relative > MECHANICS) {
                continue;
            }
            let culprit = match book {
                Some(book) => {
                    let now = self.assembly.moment(self.time, &self.y, &self.slow);
                    let seen: Vec<Moment> = self.assembly.moments.iter().cloned().chain([now]).collect();
                    worst(&mut self.assembly, book, &seen, terms)
                }
                None => self.worst_pair(),
            };
            let matters = match &culprit {
                Culprit::Term { missing, .. } => missing.abs() * self.time > NEGLIGIBLE * open.residual.abs(),
                Culprit::Pair { .. } => true,
                Culprit::None => false,
            };
            if closes && !matters {
                continue;
            }
            let Ledger { residual, unit, relative, allowed, .. } = open.clone();
            return Err(Failure::Ledger {
                ledger: name,
                residual,
                unit,
                relative,
                allowed,
                culprit: Box::new(culprit),
            });
        }
        Ok(())
    }

    fn worst_pair(&self) -> Culprit {
        let pairs = self.books.wear_by_pair(&self.assembly, &self.slow);
        let open = pairs.into_iter().max_by(|a, b| a.1.relative.total_cmp(&b.1.relative));
        open.map_or(Culprit::None, |(pair, l)| {
            let by_path: f64 = l.inward.values().sum();
            let by_depth: f64 = l.held.values().chain(l.outward.values()).sum();
            Culprit::Pair { pair, ratio: by_depth / by_path }
        })
    }

    /// Fails if a number of the result is not finite, or if an oil mass is negative.
    pub(super) fn sane(&self) -> Result<(), Failure> {
        let nonsense = |what: String, time: f64| Failure::Nonsense { what, time, far: far(&self.assembly.machine) };
        if let Some((channel, time)) = self.watch.recorder.odd {
            let what = format!("the channel \"{}\" is not a finite number", channel.name());
            return Err(nonsense(what, time));
        }
        if self.y.iter().chain(&self.slow).any(|value| !value.is_finite()) {
            return Err(nonsense("wear or a sum of the books is not a finite number".to_owned(), self.time));
        }
        let least = -BELOW_NOTHING * self.assembly.full_mass;
        match (state::PORES..=state::SOAKED).find(|&k| self.y[k] < least) {
            Some(k) => {
                let what = format!("{} is {:.3e} kg, less than nothing", called(k), self.y[k]);
                Err(nonsense(what, self.time))
            }
            None => Ok(()),
        }
    }
}

/// The settings that are furthest from their defaults, for a message.
pub(super) fn far(machine: &Machine) -> String {
    let mut all: Vec<(f64, String)> = PARAMETERS
        .iter()
        .filter_map(|p| {
            let (value, default) = ((p.of)(machine), p.default);
            let ratio = if value * default > 0.0 { (value / default).ln().abs() } else { f64::INFINITY };
            let share = (value - default).abs() / (p.most - p.least);
            let apart = if value == default { 0.0 } else { ratio.min(20.0).max(6.0 * share) };
            let unit = match p.dimension.unit() {
                "1" => String::new(),
                unit => format!(" {unit}"),
            };
            (apart > 0.3).then(|| (apart, format!("`{}` {value:.3e}{unit} (default {default:.3e})", p.path)))
        })
        .collect();
    all.sort_by(|a, b| b.0.total_cmp(&a.0));
    let named: Vec<String> = all.into_iter().take(4).map(|setting| setting.1).collect();
    if named.is_empty() { "none".to_owned() } else { named.join(", ") }
}

/// Fails if a number of the duty is outside its range.
pub(super) fn within(bounds: &duty::Bounds, value: f64) -> Result<(), Failure> {
    let duty::Bounds { what, unit, least, most } = *bounds;
    if value >= least && value <= most { Ok(()) } else { Err(Failure::Duty { what, value, unit, least, most }) }
}

/// Fails if the end condition of a segment is outside its range.
pub(super) fn check_end(end: &End) -> Result<(), Failure> {
    match *end {
        End::After(time) | End::Still { within: time } => within(&duty::TIME, time),
        End::Reached { speed, within: time } | End::Slowed { speed, within: time } => {
            within(&duty::SPEED, speed)?;
            within(&duty::TIME, time)
        }
    }
}
