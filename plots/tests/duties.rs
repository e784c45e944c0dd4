//! What answers say of machines under several duties: each duty by itself, each spring with its own numbers, and oil where oil is short.

use crate::made_up::record;
use slipsoak_engine::names::{Channel, Entry, Part, Supply};
use slipsoak_engine::parts::settings;
use slipsoak_engine::record::{Horizon, Record, Run, Warned, Warning};
use slipsoak_engine::units::RPM;
use slipsoak_plots::words;

fn answer(record: &Record) -> String {
    words::answer::answer(record).iter().map(words::text::Words::text).collect::<Vec<_>>().join(" ")
}

/// Sound runs of these springs, rpm, under these duties, hot and relaxed so far above the idle that each fits.
fn studied(springs: &[f64], duties: &[&str]) -> Record {
    let mut all = record(&vec!["spring"; springs.len() * duties.len()]);
    for (k, run) in all.runs.iter_mut().enumerate() {
        let engages = springs[k % springs.len()];
        run.variant = format!("{engages} rpm");
        duties[k / springs.len()].clone_into(&mut run.duty);
        run.warnings.clear();
        let setting = run.settings.iter_mut().find(|s| s.path == settings::clutch::engagement.path);
        setting.expect("an engagement").value = engages * RPM;
        run.parts.truncate(2);
        for part in &mut run.parts {
            (part.part, part.life, part.running) = (Part::Lining, Some(400.0 * 3600.0), Some(400.0 * 3600.0));
        }
        relaxes(run, 400.0);
    }
    all
}

/// Lets the springs of a run relax to so far above the idle, rpm, and be 20 rpm more above it once hot.
fn relaxes(run: &mut Run, over: f64) {
    let idle = run.setting(&settings::motor::idle).expect("an idle");
    run.engagement.settled = Some(idle + over * RPM);
    run.overall.least[Channel::Engagement as usize] = idle + (over + 200.0) * RPM;
}

const HOT: Warning = Warning { kind: Warned::Lining, value: 560.0, limit: 523.15 };

#[test]
fn springs_near_to_the_idle_have_the_numbers_of_their_own_duty() {
    let mut all = studied(&[1750.0, 1900.0], &["flat", "walk"]);
    for (run, over) in all.runs.iter_mut().zip([22.0, 120.0, 10.0, 400.0]) {
        relaxes(run, over);
    }
    let told = answer(&all);
    for said in [
        "any spring under “flat” (relax to 22 to 120 rpm above idle in 300 h, ",
        "“1750 rpm” under “walk” (relaxes to 10 rpm above idle in 300 h, ",
        "Under “walk”, “1900 rpm” alone fits",
    ] {
        assert!(told.contains(said), "{told}");
    }
    relaxes(&mut all.runs[0], -15.0);
    assert!(answer(&all).contains("(relax from 15 rpm below to 120 above idle in 300 h, up to "), "{}", answer(&all));
}

#[test]
fn a_machine_that_drags_under_one_duty_is_judged_by_itself_under_another() {
    let mut all = studied(&[1900.0, 2000.0], &["yard", "warm"]);
    let drags = Warning { kind: Warned::Creep, value: 1.0, limit: 0.0 };
    all.runs[..2].iter_mut().for_each(|run| run.warnings.push(drags));
    let told = answer(&all);
    assert!(told.contains("Under “yard”, no spring fits."), "{told}");
    assert!(told.contains("Under “warm”, 1900 and 2000 rpm last alike"), "{told}");
    assert!(told.contains("Do not fit any spring under “yard” (drag at idle)"), "{told}");
    assert!(told.contains("What would help under “yard”: a spring that engages at a higher speed"), "{told}");
}

#[test]
fn no_spring_is_sought_between_two_that_leave_no_room() {
    let between = |soft: f64, over: f64, hard: f64| {
        let mut all = studied(&[soft, hard], &["errands"]);
        relaxes(&mut all.runs[0], over);
        all.runs[1].warnings.push(HOT);
        answer(&all)
    };
    // Some 160 rpm are needed: room, a narrow gap, and a wide one in which the margin is not met before the heat.
    assert!(between(1900.0, 100.0, 2150.0).contains("What would help: a spring between these"));
    for told in [between(2100.0, 150.0, 2150.0), between(2000.0, 20.0, 2120.0)] {
        assert!(told.contains("rpm is likely to fit: what stays clear of this idle does not stand this use"), "{told}");
        assert!(told.contains("a lower idle as far as the motor's maker allows; less slip"), "{told}");
        assert!(!told.contains("a spring between these"), "{told}");
    }
}

#[test]
fn a_bushing_that_begins_low_is_filled_first_and_one_that_runs_dry_is_oiled_more_often() {
    let dry = |fill: f64| {
        let mut all = studied(&[2100.0], &["trail"]);
        let run = &mut all.runs[0];
        run.warnings = vec![
            Warning { kind: Warned::Dry, value: 4.0, limit: 0.0 },
            Warning { kind: Warned::Bushing, value: 390.0, limit: 363.15 },
        ];
        run.windows.most.iter_mut().for_each(|row| row[Channel::OilFill as usize] = fill);
        answer(&all)
    };
    assert!(dry(0.45).contains("What would help: oil first. Fill the bushing before it is ridden"), "{}", dry(0.45));
    assert!(dry(1.0).contains("Oiling the bushing far more often helps too") && !dry(1.0).contains("oil first"));
}

#[test]
fn several_machines_are_told_when_their_oil_is_due_as_one_is() {
    let told = |due: [f64; 2]| {
        let mut all = studied(&[1900.0, 2100.0], &["hire"]);
        for (run, due) in all.runs.iter_mut().zip(due) {
            run.horizon = Some(Horizon { service_running: Some(due * 3600.0), ..Horizon::default() });
        }
        answer(&all)
    };
    let two = told([350.0, 260.0]);
    assert!(
        two.contains("Oil the bushing well before its service is due, after 260 to 350\u{a0}h of running"),
        "{two}"
    );
    assert!(told([350.0, 350.0]).contains("well before 350\u{a0}h of running, when its service is due"));
    // It is due only after the lining is worn out.
    assert!(!told([500.0, 600.0]).contains("Oil the bushing"));
}

#[test]
fn speeds_held_under_different_duties_have_a_line_each() {
    let mut all = studied(&[1900.0, 2100.0], &["flat", "walk"]);
    let held = |kmh: f64| Warning { kind: Warned::HeldSpeed, value: kmh / 3.6, limit: 25.0 / 3.6 };
    for (k, speed) in [(1, 22.0), (2, 4.0), (3, 4.0)] {
        all.runs[k].warnings.push(held(speed));
    }
    let lines = words::warnings::lines(&all).into_iter().map(|(_, words)| words.text()).collect::<Vec<_>>();
    assert_eq!(lines.len(), 2, "{lines:?}");
    assert!(lines[0].starts_with("held at 4\u{a0}km/h") && lines[0].ends_with(": all under “walk”"), "{lines:?}");
    assert!(lines[1].starts_with("held at 22\u{a0}km/h") && lines[1].ends_with("“2100 rpm” under “flat”"), "{lines:?}");
}

#[test]
fn of_habits_those_are_named_after_which_oil_is_due_before_a_part_is_worn_out() {
    let mut all = studied(&[2000.0], &["never", "daily"]);
    for (run, due) in all.runs.iter_mut().zip([76.0, 600.0]) {
        run.horizon = Some(Horizon { service_running: Some(due * 3600.0), ..Horizon::default() });
    }
    let said = answer(&all);
    let never = "Under “never”, oil the bushing well before 76\u{a0}h of running, when its service is due";
    assert!(said.contains(never) && !said.contains("“daily”, oil"), "{said}");
}

/// The fills said first are not said again; a larger dose is said with what of it is lost.
#[test]
fn a_larger_dose_is_said_to_leave_the_bushing_fuller_and_drops_on_the_ground() {
    let mut all = studied(&[2000.0], &["2 drops", "10 drops"]);
    for (run, (drops, lost, fill)) in all.runs.iter_mut().zip([(2.0, 0.0, 0.933), (10.0, 6.4, 0.989)]) {
        run.supplies.insert(Supply::Drops, drops);
        run.ledgers.oil.inward.insert(Entry::PutOn, drops * 3.5e-5);
        run.ledgers.oil.outward = [(Entry::Flung, lost * 3.5e-5)].into();
        run.windows.mean.last_mut().expect("a window")[Channel::OilFill as usize] = fill;
    }
    let said = answer(&all);
    let first = "“10 drops” leaves the bushing fuller: 98.9\u{a0}% of a full bushing at the end, against 93.3\u{a0}% with “2 drops”, but 6.4 of its 10 drops end on the ground";
    assert!(said.contains(first) && !said.contains("pores hold"), "{said}");
    all.runs[1].supplies.insert(Supply::Drops, 2.0);
    assert!(answer(&all).contains("“10 drops” keeps more oil: "));
}

#[test]
fn a_dose_that_takes_the_linings_grip_is_not_named_for_the_oil_that_it_keeps() {
    let told = |grips: [f64; 3]| {
        let mut all = studied(&[2000.0], &["warm", "too much", "never"]);
        for ((run, grip), fill) in all.runs.iter_mut().zip(grips).zip([0.994, 0.995, 0.8]) {
            run.grip = Some([grip, 1.0]);
            run.windows.mean.last_mut().expect("a window")[Channel::OilFill as usize] = fill;
        }
        answer(&all)
    };
    let slips = told([0.95, 0.27, 1.0]);
    assert!(
        slips.contains("“warm” keeps most oil: 99.4") && slips.contains("Under “too much” oil on the lining takes")
    );
    assert!(told([0.95, 0.9, 1.0]).contains("“too much” and “warm” keep most oil, alike"));
}
