//! Oil of a bushing that idles for 1000 h: the whole model against a rule of practice.
//!
//! Source: The Tribology Handbook, section A6, quoted and not at hand: refill a porous bearing after 1000 h of rotation; the Japan
//! powder metallurgy association (JPMA), likewise: a bearing that has lost half of its oil is at its end. Together: after 1000 h a
//! fifth to half of the oil is gone. That is advice from experience, with a reserve that nobody states, and no measurement.
//!
//! The machine is the example as it is, full of oil, motor idling, drum at rest, no slip heat; only end leakage and air vary.
//!
//! Result: the default end leakage, 0.1 per hour at 80 °C and 2500 rpm, loses 21 % where the bushing stays at 49 °C, and half in
//! 820 h where it runs at 79 °C: what the rule asks for. A leakage of 0.006–0.014 per hour, which gives 20–50 % if the bushing is at
//! 80 °C and both faces turn at 2500 rpm all the time, is too little here: at idle one face turns, at 1700 rpm, in thicker oil. It
//! loses 4–6 % cool and 9–14 % warm.

use crate::measured::refill::{COOL, HOUR, WARM, default_leak, mount};
use crate::measured::{Row, go, hold};
use approx::assert_relative_eq;
use slipsoak_engine::duty::{End, Task};
use slipsoak_engine::names::Channel;
use slipsoak_engine::simulate::Simulation;
use slipsoak_engine::units::ZERO_C;

/// Time after which the rule asks for oil, h.
const RULE: f64 = 1000.0;

/// Oil lost in 1000 h of idling over that of a full bushing: the rule's least | model | ratio. The rule holds from 1 to 2.5.
const BY_DEFAULT: Row = ("loss, cool, 0.1 per hour", 0.20, 0.214, 1.07);
/// Hours until half of the oil is gone: the rule | model | ratio.
const TO_THE_END: Row = ("hours to half, warm, 0.1 per hour", RULE, 818.0, 0.818);
/// The same losses with the least leakages: end leakage per hour, air, °C, row.
const BY_LITTLE: [(f64, f64, Row); 4] = [
    (0.006, COOL, ("loss, cool, 0.006 per hour", 0.20, 0.0405, 0.20)),
    (0.014, COOL, ("loss, cool, 0.014 per hour", 0.20, 0.0562, 0.28)),
    (0.006, WARM, ("loss, warm, 0.006 per hour", 0.20, 0.0917, 0.46)),
    (0.014, WARM, ("loss, warm, 0.014 per hour", 0.20, 0.139, 0.695)),
];

/// Share of a full bushing's oil that is lost in the rule's time.
fn lost(mut sim: Simulation) -> f64 {
    go(&mut sim, Task::Idle, End::After(RULE * HOUR));
    assert_eq!(sim.reading(Channel::SlipPower), 0.0);
    1.0 - sim.reading(Channel::OilFill)
}

// 20–50 %: fill 0.5 to 0.8.
#[test]
fn a_cool_bushing_that_idles_for_1000_hours_loses_a_fifth_to_half_of_its_oil() {
    hold(BY_DEFAULT, lost(mount(default_leak(), COOL)), 1.0..=2.5);
}

// ±30 %: the rule's round number.
#[test]
fn a_warm_bushing_has_lost_half_of_its_oil_after_1000_hours_within_30_percent() {
    let mut sim = mount(default_leak(), WARM);
    let mut before = (0.0, 1.0);
    loop {
        go(&mut sim, Task::Idle, End::After(10.0 * HOUR));
        let now = (sim.clock() / HOUR, sim.reading(Channel::OilFill));
        if now.1 <= 0.5 {
            let hours = before.0 + (now.0 - before.0) * (before.1 - 0.5) / (before.1 - now.1);
            hold(TO_THE_END, hours, 0.7..=1.3);
            break;
        }
        assert!(now.0 < 2.0 * RULE, "the oil lasts for more than 2000 h");
        before = now;
    }
    assert_relative_eq!(sim.reading(Channel::Bushing) - ZERO_C, 79.0, epsilon = 2.0);
}

// Below 1: such leakages cannot be those behind the rule, as the machine idles.
#[test]
fn the_least_end_leakages_lose_less_in_1000_hours_than_the_rule_says() {
    for (leak, air, row) in BY_LITTLE {
        hold(row, lost(mount(leak, air)), 0.1..=0.9);
    }
}
