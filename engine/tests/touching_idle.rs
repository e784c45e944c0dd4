//! An idle that just touches the shoes, where two or more of them touch at once: it runs on, and wears and warms as with small steps.

use slipsoak_engine::duty::{End, Segment, Task};
use slipsoak_engine::names::{Entry, Part};
use slipsoak_engine::parts::{Machine, parameter};
use slipsoak_engine::record::Run;
use slipsoak_engine::simulate::{Failure, Options, Simulation, Tolerance};

fn having(settings: &[(&str, f64)]) -> Machine {
    let mut machine = Machine::default();
    for (path, value) in settings {
        (parameter(path).expect(path).put)(&mut machine, *value);
    }
    machine
}

fn shares([first, second, third, fourth]: [f64; 4]) -> Machine {
    let springs = [("springs.first", first), ("springs.second", second), ("springs.third", third)];
    having(&[&springs[..], &[("springs.fourth", fourth), ("clutch.shoes", 4.0)]].concat())
}

/// Springs over the nominal one: two that are alike, as once found among sampled machines; three; two that are almost alike.
fn machines() -> [Machine; 4] {
    let mut sampled =
        shares([0.949_721_808_316_796_6, 0.994_087_027_471_170_6, 0.949_721_808_316_796_6, 1.064_616_240_821_843_6]);
    for (path, value) in [
        ("motor.idle_band", 13.059_351_759_406_518),
        ("motor.drag", 2.663_397_386_030_786_2),
        ("clutch.relaxation", 0.013_420_119_916_691_954),
        ("springs.lot", 1.018_782_970_370_392_6),
        ("bushing.mixed_number", 0.065_308_744_968_464_55),
        ("bushing.chain_pull", 26.244_165_505_336_152),
    ] {
        (parameter(path).expect(path).put)(&mut sampled, value);
    }
    [sampled, shares([0.9, 1.0, 0.9, 1.1]), shares([0.95, 0.95, 0.95, 1.05]), shares([0.9, 1.0, 0.901, 0.902])]
}

fn idled(machine: &Machine, idle: f64, seconds: f64, tolerance: Tolerance) -> Result<Run, Failure> {
    let mut machine = machine.clone();
    (machine.motor.idle, machine.motor.stall) = (idle, 0.6 * idle);
    let mut sim = Simulation::new(machine, Options { windows: 0, tolerance, ..Options::default() })?;
    sim.perform(&Segment::Ride(Task::Idle, End::After(seconds)))?;
    sim.finish("touching", "idle")
}

/// From the idle that stays clear of the shoes to the one that sets the vehicle off, in steps of a two-thousandth.
fn idles(machine: &Machine) -> impl Iterator<Item = f64> + use<> {
    let engages = machine.clutch.engagement;
    (0..320).map(move |k| engages * (0.94 + f64::from(k) * 5e-4))
}

/// Motor and clutch of a machine that idles for a while at each idle: what cannot go on.
fn stuck(machine: &Machine, idles: impl Iterator<Item = f64>, seconds: f64) -> Vec<String> {
    let failure =
        |idle: f64| Some(format!("{idle:.3} rad/s: {}", idled(machine, idle, seconds, Tolerance::RUNS).err()?));
    idles.filter_map(failure).collect()
}

#[test]
fn an_idle_that_just_touches_shoes_that_touch_together_runs_on() {
    for machine in machines() {
        assert_eq!(stuck(&machine, idles(&machine), 10.0), Vec::<String>::new(), "{:?}", machine.springs);
    }
}

/// Friction in the guides holds the shoes: what presses once they touch is twice it, and it does so until nothing does.
#[test]
fn an_idle_that_just_touches_runs_on_with_a_little_friction_in_the_guides_too() {
    for friction in [1e-6, 1e-3, 0.1] {
        for mut machine in machines() {
            machine.clutch.guide_friction = friction;
            let every_fourth = idles(&machine).step_by(4);
            assert_eq!(stuck(&machine, every_fourth, 10.0), Vec::<String>::new(), "{friction} N");
        }
    }
}

/// Small steps: a hundredth of the close tolerance.
#[test]
fn a_touching_idle_wears_and_warms_as_with_small_steps() {
    let mut touched = 0;
    for machine in machines() {
        for idle in idles(&machine).step_by(16) {
            let exact = idled(&machine, idle, 10.0, Tolerance::alike(0.01)).expect("it runs on");
            let heat = |run: &Run| run.ledgers.heat.inward[&Entry::SlipHeat];
            let worn = |run: &Run| run.parts.iter().find(|part| part.part == Part::Lining).expect("a lining").used;
            if heat(&exact) < 1.0 {
                continue;
            }
            touched += 1;
            for (ridden, within) in [(Tolerance::RUNS, 3e-3), (Tolerance::CLOSE, 1e-3)] {
                let run = idled(&machine, idle, 10.0, ridden).expect("it runs on");
                for (found, wanted) in [(heat(&run), heat(&exact)), (worn(&run), worn(&exact))] {
                    assert!((found / wanted - 1.0).abs() < within, "{idle:.3} rad/s: {found:e} for {wanted:e}");
                }
            }
        }
    }
    assert!(touched > 12, "{touched}");
}
