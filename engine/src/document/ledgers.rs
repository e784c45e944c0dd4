//! Ledgers of a run: energy, oil and wear.

use crate::names::{Book, Entry};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// Balances of energy, oil and wear. A ledger closes if its residual is within rounding or the integrator's error.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Ledgers {
    /// work of the motor, starter, clutch and chain, J
    pub mechanics: Ledger,
    /// work at the vehicle, J
    pub chain: Ledger,
    /// heat, J
    pub heat: Ledger,
    /// oil, kg
    pub oil: Ledger,
    /// worn volume, m³: by force and sliding path inward, by depth held; `relative` is that of the worst pair
    pub wear: Ledger,
    /// heat of the clutch alone, J: generated, stored and lost; heat conducted to the motor counts as lost
    #[serde(default)]
    pub clutch: Ledger,
}

impl Ledgers {
    /// The ledger with this name.
    pub fn of(&self, book: Book) -> &Ledger {
        match book {
            Book::Mechanics => &self.mechanics,
            Book::Chain => &self.chain,
            Book::Heat => &self.heat,
            Book::Oil => &self.oil,
            Book::Wear => &self.wear,
            Book::Clutch => &self.clutch,
        }
    }

    /// Every ledger with its name.
    pub fn all(&self) -> [(Book, &Ledger); 6] {
        Book::ALL.map(|book| (book, self.of(book)))
    }
}

/// The oil's ledger from a moment of the run on; what it holds then stands in it as “at the start”.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct OilSince {
    /// the moment, s from the start of the run
    pub time: f64,
    /// the ledger, kg
    pub ledger: Ledger,
}

/// One ledger: inputs equal changes of stored amounts plus outputs.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Ledger {
    /// unit of every entry
    pub unit: String,
    /// inputs
    pub inward: BTreeMap<Entry, f64>,
    /// changes of stored amounts
    pub held: BTreeMap<Entry, f64>,
    /// outputs
    pub outward: BTreeMap<Entry, f64>,
    /// in − held − out
    pub residual: f64,
    /// the residual, without its sign, relative to the largest entry
    pub relative: f64,
    /// largest relative residual allowed
    pub allowed: f64,
}

impl Ledger {
    /// The ledger of these entries.
    pub(crate) fn of(
        unit: &str,
        allowed: f64,
        inward: &[(Entry, f64)],
        held: &[(Entry, f64)],
        outward: &[(Entry, f64)],
    ) -> Self {
        let sum = |side: &[(Entry, f64)]| side.iter().map(|e| e.1).sum::<f64>();
        let book = |side: &[(Entry, f64)]| -> BTreeMap<Entry, f64> { side.iter().copied().collect() };
        let residual = sum(inward) - sum(held) - sum(outward);
        let (inward, held, outward) = (book(inward), book(held), book(outward));
        let mut ledger = Self { unit: unit.to_owned(), inward, held, outward, residual, relative: 0.0, allowed };
        ledger.relate();
        ledger
    }

    /// Sets the residual relative to the largest entry.
    pub(crate) fn relate(&mut self) {
        let largest = self.largest();
        self.relative = if largest > 0.0 { self.residual.abs() / largest } else { 0.0 };
    }

    /// The largest entry.
    pub(crate) fn largest(&self) -> f64 {
        let entries = self.inward.values().chain(self.held.values()).chain(self.outward.values());
        entries.fold(0.0, |m, e| m.max(e.abs()))
    }
}
