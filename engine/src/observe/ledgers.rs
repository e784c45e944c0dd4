//! Ledgers of energy, oil and wear, from the start of a run to its end.

use crate::document::record::{Ledger, Ledgers, OilSince};
use crate::life::Pair;
use crate::model::{Assembly, COARSE, MECHANICS, NOTHING, counter, slow, state};
use crate::names::{Book, Entry};
use std::ops::Range;

/// Ledgers with a residual left by skipping.
const EVENED: [Book; 5] = [Book::Mechanics, Book::Chain, Book::Heat, Book::Oil, Book::Clutch];
/// Place of the oil among them.
const OIL: usize = 3;
/// Relative residual at which the ledgers of heat fail a run.
const HEAT: f64 = 1e-9;
/// Rounding error of a part's heat over about ten thousand steps, relative to its heat above 0 K. The heat flow may be
/// much smaller than that: a machine that hardly turned, with a block of a ton.
const ROUNDED: f64 = 1e-13;

/// Change of a machine's stored quantities since the start of the run.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Held {
    turning_motor: f64,
    turning_drum: f64,
    moving_vehicle: f64,
    heat: f64,
    /// heat of the clutch without the motor's block
    clutch: f64,
    worn: [f64; Pair::COUNT],
}

/// State of the oil when some was put on for the first time.
#[derive(Clone, Debug)]
struct OilBegun {
    time: f64,
    y: Vec<f64>,
    put_on: f64,
    of_parts: f64,
    removed: f64,
    skipped: f64,
}

/// Entries of the ledgers that the counters do not contain.
#[derive(Clone, Debug)]
pub(crate) struct Books {
    pub starter: f64,
    /// oil applied or pressed in by services, and oil of new parts, kg
    pub oil_put_on: f64,
    pub oil_of_parts: f64,
    pub oil_removed: f64,
    /// when oil was put on for the first time, unless that was at the start
    begun: Option<OilBegun>,
    /// worn volume of each pair that was removed with a worn part, m³
    pub worn_off: [f64; Pair::COUNT],
    /// allowed error of speeds relative to the default, at least 1
    pub coarse: f64,
    /// reduction of stored quantities by changed sizes, masses or capacities
    adjusted: Held,
    /// residuals left by skipping: mechanics and chain J, heat J, oil kg, heat of the clutch J
    skipped: Option<[f64; 5]>,
    pub opening: Vec<f64>,
}

/// Books a residual that was left by skipping.
fn even_out(ledger: &mut Ledger, missing: f64) {
    ledger.outward.insert(Entry::EvenedOut, missing);
    ledger.residual -= missing;
    ledger.relate();
}

impl Books {
    pub fn open(y: &[f64]) -> Self {
        let none = [0.0; Pair::COUNT];
        Self {
            starter: 0.0,
            oil_put_on: 0.0,
            oil_of_parts: 0.0,
            oil_removed: 0.0,
            begun: None,
            worn_off: none,
            coarse: 1.0,
            adjusted: Held::default(),
            skipped: None,
            opening: y.to_vec(),
        }
    }

    /// Present stored quantities.
    pub fn held(&self, a: &Assembly, y: &[f64], slow: &[f64]) -> Held {
        let m = &a.machine;
        let kinetic = |j: f64, k: usize| 0.5 * j * (y[k] * y[k] - self.opening[k] * self.opening[k]);
        Held {
            turning_motor: kinetic(m.motor.inertia, state::MOTOR),
            turning_drum: kinetic(m.drum.inertia, state::DRUM),
            moving_vehicle: kinetic(a.reduced_mass, state::DRUM),
            heat: self.stored(a, y, state::LINING..state::HEAD),
            clutch: self.stored(a, y, state::LINING..state::BLOCK),
            worn: a.worn_volumes(slow),
        }
    }

    /// Books an adjustment of sizes, masses or capacities: stored quantities change without a flow.
    pub fn adjust(&mut self, was: &Held, is: &Held) {
        let book = &mut self.adjusted;
        book.turning_motor += was.turning_motor - is.turning_motor;
        book.turning_drum += was.turning_drum - is.turning_drum;
        book.moving_vehicle += was.moving_vehicle - is.moving_vehicle;
        book.heat += was.heat - is.heat;
        book.clutch += was.clutch - is.clutch;
        for (k, worn) in book.worn.iter_mut().enumerate() {
            *worn += was.worn[k] - is.worn[k];
        }
    }

    /// Books the residual of entries that were extrapolated over skipped blocks. It stays visible, and the simulated
    /// blocks still have to close.
    pub fn even_out(&mut self, before: &Ledgers, after: &Ledgers) {
        for (sum, book) in self.skipped.get_or_insert([0.0; 5]).iter_mut().zip(EVENED) {
            *sum += after.of(book).residual - before.of(book).residual;
        }
    }

    /// Marks the moment before oil is put on, if it is the first time.
    pub fn begin_oil(&mut self, time: f64, y: &[f64]) {
        if self.begun.is_none() && self.oil_put_on == 0.0 && time > 0.0 {
            self.begun = Some(OilBegun {
                time,
                y: y.to_vec(),
                put_on: self.oil_put_on,
                of_parts: self.oil_of_parts,
                removed: self.oil_removed,
                skipped: self.skipped.map_or(0.0, |skipped| skipped[OIL]),
            });
        }
    }

    /// The oil's ledger from the first oiling on.
    pub fn oil_since(&self, y: &[f64]) -> Option<OilSince> {
        let begun = self.begun.as_ref()?;
        let mut ledger = self.oil(y, &begun.y, [begun.put_on, begun.of_parts, begun.removed]);
        if let Some(skipped) = self.skipped {
            even_out(&mut ledger, skipped[OIL] - begun.skipped);
        }
        Some(OilSince { time: begun.time, ledger })
    }

    /// The oil's ledger since a state; with what had been put on, had come with new parts and was removed until then, kg.
    fn oil(&self, y: &[f64], from: &[f64], [put_on, of_parts, removed]: [f64; 3]) -> Ledger {
        let since = |k: usize| y[k] - from[k];
        Ledger::of(
            "kg",
            1e-10,
            &[
                (Entry::InPoresAtTheStart, from[state::PORES]),
                (Entry::InFilmAtTheStart, from[state::FILM]),
                (Entry::InWasherAtTheStart, from[state::WASHER_OIL]),
                (Entry::PutOn, self.oil_put_on - put_on),
                (Entry::InNewParts, self.oil_of_parts - of_parts),
            ],
            &[
                (Entry::InPores, y[state::PORES]),
                (Entry::InFilm, y[state::FILM]),
                (Entry::InWasher, y[state::WASHER_OIL]),
                (Entry::InGrease, since(state::GREASE)),
                (Entry::OnLining, (state::LINING_OIL..=state::SOAKED).map(since).sum()),
            ],
            &[
                (Entry::Flung, since(counter::FLUNG)),
                (Entry::Evaporated, since(counter::EVAPORATED)),
                (Entry::RunOff, since(counter::RUN_OFF)),
                (Entry::Leaked, since(counter::LEAKED)),
                (Entry::RemovedWithParts, self.oil_removed - removed),
            ],
        )
    }

    fn stored(&self, a: &Assembly, y: &[f64], nodes: Range<usize>) -> f64 {
        nodes.map(|k| a.capacity[k] * (y[k] - self.opening[k])).sum()
    }

    pub fn close(&self, a: &Assembly, y: &[f64], slow: &[f64]) -> Ledgers {
        let held = self.held(a, y, slow);
        let by = &self.adjusted;
        let mut mechanics = Ledger::of(
            "J",
            MECHANICS,
            &[(Entry::MotorWork, y[counter::MOTOR_WORK]), (Entry::StarterWork, self.starter)],
            &[(Entry::TurningMotor, held.turning_motor), (Entry::TurningDrum, held.turning_drum)],
            &[
                (Entry::ChainWork, y[counter::CHAIN_WORK]),
                (Entry::SlipHeat, y[counter::SLIP]),
                (Entry::BearingHeat, y[counter::BEARING]),
                (Entry::Adjusted, by.turning_motor + by.turning_drum),
            ],
        );
        let mut chain = Ledger::of(
            "J",
            MECHANICS,
            &[(Entry::ChainWork, y[counter::CHAIN_WORK])],
            &[(Entry::MovingVehicle, held.moving_vehicle)],
            &[
                (Entry::Rolling, y[counter::ROLLING]),
                (Entry::Air, y[counter::AIR]),
                (Entry::Grade, y[counter::GRADE]),
                (Entry::Brake, y[counter::BRAKE]),
                (Entry::ChainLoss, y[counter::CHAIN_LOSS]),
                (Entry::Adjusted, by.moving_vehicle),
            ],
        );
        for (ledger, counted) in [&mut mechanics, &mut chain].into_iter().zip(a.counted) {
            let largest = ledger.largest().max(NOTHING);
            let steps = if self.coarse > 1.0 { (MECHANICS * self.coarse).max(COARSE) } else { MECHANICS };
            ledger.allowed = steps * (counted / largest).max(1.0);
            ledger.allowed = ledger.allowed.max(NOTHING / largest);
        }
        let stored = |nodes: Range<usize>| self.stored(a, y, nodes);
        let rounded = |nodes: Range<usize>| ROUNDED * nodes.map(|k| a.capacity[k] * y[k].abs()).sum::<f64>();
        let mut heat = Ledger::of(
            "J",
            HEAT,
            &[
                (Entry::SlipHeat, y[counter::SLIP]),
                (Entry::BearingHeat, y[counter::BEARING]),
                (Entry::MotorHeat, y[counter::MOTOR_HEAT]),
            ],
            &[
                (Entry::InLining, stored(state::LINING..state::WALL)),
                (Entry::InDrum, stored(state::WALL..state::BUSHING)),
                (Entry::InBushingAndWasher, stored(state::BUSHING..state::SHOES)),
                (Entry::InShoesCarrierAndShaft, stored(state::SHOES..state::BLOCK)),
                (Entry::InMotorBlock, stored(state::BLOCK..state::HEAD)),
            ],
            &[(Entry::ToTheAir, y[counter::LOST]), (Entry::Adjusted, by.heat)],
        );
        let mut clutch = Ledger::of(
            "J",
            HEAT,
            &[(Entry::SlipHeat, y[counter::SLIP]), (Entry::BearingHeat, y[counter::BEARING])],
            &[
                (Entry::InLining, stored(state::LINING..state::WALL)),
                (Entry::InDrumWall, stored(state::WALL..state::WEB)),
                (Entry::InWeb, stored(state::WEB..state::SPROCKET)),
                (Entry::InSprocket, stored(state::SPROCKET..state::BUSHING)),
                (Entry::InBushing, stored(state::BUSHING..state::WASHER)),
                (Entry::InWasher, stored(state::WASHER..state::SHOES)),
                (Entry::InShoes, stored(state::SHOES..state::CARRIER)),
                (Entry::InCarrier, stored(state::CARRIER..state::SHAFT)),
                (Entry::InShaft, stored(state::SHAFT..state::BLOCK)),
            ],
            &[
                (Entry::BandToTheAir, y[counter::BAND_AIR]),
                (Entry::WebAndSprocketToTheAir, y[counter::DISC_AIR]),
                (Entry::ShoesAndCarrierToTheAir, y[counter::INNER_AIR]),
                (Entry::Radiated, y[counter::RADIATED]),
                (Entry::ThroughTheShaft, y[counter::TO_MOTOR]),
                (Entry::Adjusted, by.clutch),
            ],
        );
        for (ledger, nodes) in [(&mut heat, state::LINING..state::HEAD), (&mut clutch, state::LINING..state::BLOCK)] {
            ledger.allowed = ledger.allowed.max(rounded(nodes) / ledger.largest().max(NOTHING));
        }
        let oil = self.oil(y, &self.opening, [0.0; 3]);
        let mut ledgers = Ledgers { mechanics, chain, heat, oil, wear: self.wear(a, slow), clutch };
        if let Some(skipped) = self.skipped {
            let energy =
                [&mut ledgers.mechanics, &mut ledgers.chain, &mut ledgers.heat, &mut ledgers.oil, &mut ledgers.clutch];
            for (ledger, missing) in energy.into_iter().zip(skipped) {
                even_out(ledger, missing);
            }
        }
        ledgers
    }

    /// Worn volume by force and sliding path against worn volume by depth; the ledger closes only if that of every pair
    /// does.
    fn wear(&self, a: &Assembly, slow: &[f64]) -> Ledger {
        let held = a.worn_volumes(slow);
        let side = |of: &dyn Fn(Pair) -> f64| Pair::ALL.map(|pair| (pair.row().entry, of(pair)));
        let mut all = Ledger::of(
            "m³",
            1e-9,
            &side(&|pair| slow[slow::volume(pair)]),
            &side(&|pair| held[pair as usize]),
            &[
                (Entry::TakenOffWithWornParts, self.worn_off.iter().sum()),
                (Entry::Adjusted, self.adjusted.worn.iter().sum()),
            ],
        );
        all.relative = self.wear_by_pair(a, slow).map(|p| p.1.relative).into_iter().fold(0.0, f64::max);
        all
    }

    /// Wear of each pair as a separate ledger.
    pub fn wear_by_pair(&self, a: &Assembly, slow: &[f64]) -> [(Entry, Ledger); Pair::COUNT] {
        let held = a.worn_volumes(slow);
        Pair::ALL.map(|pair| {
            let k = pair as usize;
            let out = [(Entry::TakenOff, self.worn_off[k]), (Entry::Adjusted, self.adjusted.worn[k])];
            let inward = [(Entry::ForceAndPath, slow[slow::volume(pair)])];
            (pair.row().entry, Ledger::of("m³", 1e-9, &inward, &[(Entry::Depth, held[k])], &out))
        })
    }
}
