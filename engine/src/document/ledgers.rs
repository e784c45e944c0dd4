//! Ledgers of a run: where energy and oil went, and what wore.

use crate::names::{Book, Entry};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// Where energy and oil went, and what wore. A ledger closes when its residual is rounding or the integrator's error.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
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
    /// worn volume, m³: by force and sliding path in, by depth held; `relative` is that of the pair that closes worst
    pub wear: Ledger,
    /// heat of the clutch alone, J: what rubbing makes, where it is held and how it leaves; + to the motor is out of the clutch
    #[serde(default)]
    pub clutch: Ledger,
}

impl Ledgers {
    /// The ledger of a name.
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

/// One ledger: what came in equals what is held and what went out.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Ledger {
    /// unit of every entry
    pub unit: String,
    /// came in
    pub inward: BTreeMap<Entry, f64>,
    /// change of what is held
    pub held: BTreeMap<Entry, f64>,
    /// went out
    pub outward: BTreeMap<Entry, f64>,
    /// in − held − out
    pub residual: f64,
    /// |residual| over the largest entry
    pub relative: f64,
    /// greatest relative residual allowed
    pub allowed: f64,
}
