//! Numbers of the reference problem: the places of its states and slow quantities, and its invented constants.

pub const CELLS: usize = 12;
pub const STATES: usize = 36;
pub const LINING: usize = 2;
pub const DRUM: usize = LINING + CELLS;
/// back of the drum wall
pub const BACK: usize = DRUM + CELLS - 1;
pub const SHOE: usize = 26;
pub const HUB: usize = 27;
pub const SPRING: usize = 28;
pub const WEB: usize = 29;
/// temperature of the bushing, among the states
pub const BUSHING: usize = 30;
pub const WASHER: usize = 31;
pub const CRANK: usize = 32;
/// temperature of the crankcase, among the states
pub const CRANKCASE: usize = 33;
pub const SPROCKET: usize = 34;
pub const CAVITY: usize = 35;

/// remaining share of oil, among the slow quantities
pub const OIL: usize = 0;
/// aged share
pub const AGED: usize = 1;
/// wear of the lining, µm
pub const LINING_WEAR: usize = 2;
/// wear of the washer, µm
pub const WASHER_WEAR: usize = 3;
/// wear of the bushing, µm
pub const BUSHING_WEAR: usize = 4;
/// wear of the drum, µm
pub const DRUM_WEAR: usize = 5;
/// relaxation of the spring
pub const RELAXED: usize = 6;
/// integral of the bushing's temperature above ambient, K h
pub const BUSHING_INTEGRAL: usize = 7;
pub const SLOW: usize = 8;

pub const AMBIENT: f64 = 298.15;
pub const STEFAN_BOLTZMANN: f64 = 5.670374419e-8;
pub const GAS: f64 = 8.314462618;
pub const GEAR: f64 = 0.14 / 6.0;
pub const ENGINE_INERTIA: f64 = 0.015;
pub const VEHICLE_INERTIA: f64 = 0.004 + 190.0 * GEAR * GEAR;
pub const BOTH: f64 = ENGINE_INERTIA + VEHICLE_INERTIA;
pub const ROLLING: f64 = 0.03 * 190.0 * 9.81 * GEAR;
pub const DRAG: f64 = 0.48 * GEAR * GEAR * GEAR;
/// e^((140 − 385)/6)
pub const TOP_OVER_IDLE: f64 = 1.8463271484531425e-18;
/// mass times radius of a shoe
pub const SHOE_MOMENT: f64 = 0.012;
pub const ENGAGEMENT: f64 = 2000.0 * std::f64::consts::TAU / 60.0;
pub const SPRING_FORCE: f64 = SHOE_MOMENT * ENGAGEMENT * ENGAGEMENT;
pub const RADIUS: f64 = 0.054;
pub const CAPACITIES: [f64; 10] = [235.0, 141.0, 9.4, 165.0, 11.4, 4.2, 235.0, 3600.0, 141.0, 190.0];
/// conductors between nodes
pub const LINKS: [(usize, usize, f64); 11] = [
    (BACK, WEB, 8.0),
    (SHOE, HUB, 0.6),
    (SHOE, SPRING, 0.08),
    (HUB, CRANK, 3.0),
    (WEB, BUSHING, 4.0),
    (BUSHING, CRANK, 1.2),
    (WEB, WASHER, 0.4),
    (WASHER, HUB, 0.3),
    (CRANK, CRANKCASE, 4.0),
    (WEB, SPROCKET, 3.0),
    (LINING + CELLS - 1, SHOE, f64::NAN),
];
/// surfaces in the cavity: area, share of the air speed, whether the drum's speed counts
pub const SURFACES: [(usize, f64, f64, bool); 5] = [
    (SHOE, 0.01, 0.8, false),
    (HUB, 0.006, 0.8, false),
    (SPRING, 0.002, 0.8, false),
    (WEB, 0.012, 1.0, true),
    (BACK, 0.0085, 1.2, true),
];
/// surfaces that radiate to the cavity: emissivity times area times Stefan and Boltzmann's constant
pub const RADIANT: [(usize, f64); 2] = [(BACK, 0.8 * STEFAN_BOLTZMANN * 0.0085), (WEB, 0.8 * STEFAN_BOLTZMANN * 0.012)];
/// outer surfaces: area, radiating part, share of the drum's and of the engine's air speed
pub const OUTER: [(usize, f64, f64, f64); 2] = [(CAVITY, 0.06, 0.01, 0.004), (CRANKCASE, 0.15, 0.0, 0.025)];
