//! What to do first with a machine, from its sheet.

use super::said::{Said, sentences};
use slipsoak_engine::hill_start::HillStart;
use slipsoak_engine::parts::{Machine, Oil};
use slipsoak_engine::sheet::sheet;
use slipsoak_engine::units::rpm;
use slipsoak_plots::page::Page;
use slipsoak_plots::words::sheet::advice;
use slipsoak_plots::words::text::Words;

/// A start on a slope that burns the clutch and overheats its lining.
const WARM: HillStart =
    HillStart { grade: 0.12, locks: Some(33.0), heat: 43_000.0, lining: 556.0, shoes: 390.0, burns: Some(2300.0) };

/// An idle of 1700 rpm, springs of this engagement, rpm, and the second of them with this share of its force.
fn machine(engagement: f64, second: f64) -> Machine {
    let mut machine = Machine::default();
    machine.motor.idle = rpm(1700.0);
    machine.clutch.engagement = rpm(engagement);
    machine.springs.second = second;
    machine
}

fn first(machine: &Machine) -> Vec<Words> {
    advice(&sheet(machine).expect("a sheet"))
}

pub fn sheets() -> Vec<Said> {
    let mut wrong = machine(2000.0, 0.7);
    wrong.oil = Oil::named("with silicone").expect("an oil");
    let mut lot = machine(1800.0, 1.0);
    lot.springs.lot = 0.8;
    let starts = |burns: Option<f64>, warm: Option<HillStart>| {
        let mut sheet = sheet(&machine(2000.0, 1.0)).expect("a sheet");
        (sheet.launch.grade, sheet.launch.burns, sheet.warm) = (0.12, burns, warm);
        advice(&sheet)
    };
    let of = |engagement, second| first(&machine(engagement, second));
    vec![
        sentences("sheet, a weak spring", &of(2000.0, 0.9)),
        sentences("sheet, a weak spring that drags", &of(2000.0, 0.7)),
        sentences("sheet, a broken spring", &of(2000.0, 0.0)),
        sentences("sheet, a weak spring of a set too near to the idle", &of(1750.0, 0.7)),
        sentences("sheet, a weak lot", &first(&lot)),
        sentences("sheet, springs below the idle", &of(1600.0, 1.0)),
        sentences("sheet, springs too near to the idle", &of(1750.0, 1.0)),
        sentences("sheet, the wrong oil and a weak spring", &first(&wrong)),
        sentences("sheet, a start that burns", &starts(Some(2300.0), None)),
        sentences("sheet, a start that burns when warm", &starts(None, Some(WARM))),
        sentences(
            "sheet, a start too hot when warm",
            &starts(None, Some(HillStart { burns: None, locks: None, ..WARM })),
        ),
    ]
}

#[test]
fn a_sheet_begins_with_what_to_do_and_says_nothing_of_it_where_nothing_is_to_be_done() {
    let begins = |machine: &Machine| first(machine).first().map_or_else(String::new, Words::text);
    assert_eq!(begins(&machine(2000.0, 1.0)), "");
    assert_eq!(begins(&machine(2000.0, 0.98)), "", "within what a sound set has");
    assert!(
        begins(&machine(2000.0, 0.7))
            .starts_with("Replace all springs first, by a new set of the same: one spring is weak")
    );
    assert!(begins(&machine(1600.0, 1.0)).starts_with("Do not ride it so: its clutch drags at idle"));
    assert!(begins(&machine(1750.0, 1.0)).starts_with("Choose another spring before you ride it"));
    let mut wrong = machine(2000.0, 1.0);
    wrong.oil = Oil::named("with PTFE").expect("an oil");
    assert!(begins(&wrong).starts_with("Never use this oil"));
    let page = Page::of(&sheet(&wrong).expect("a sheet").into()).html();
    let at = |words: &str| page.find(words).unwrap_or_else(|| panic!("{words}"));
    assert!(at("Never use this oil") < at("It idles at"));
}

#[test]
fn a_machine_that_stays_on_its_slope_does_not_move_off_and_locks_at_no_speed() {
    let told = |reached: f64| {
        let mut stays = sheet(&machine(2000.0, 1.0)).expect("a sheet");
        (stays.launch.reached, stays.launch.grade) = (reached, 0.1);
        Page::of(&stays.into()).text(400, true)
    };
    let (stays, crawls) = (told(2e-14), told(1.0));
    assert!(stays.contains("It does not move off on a slope of 10 %") && !stays.contains("it reaches"), "{stays}");
    assert!(!stays.contains("locks up at full throttle") && !stays.contains("0.0000"), "{stays}");
    assert!(
        crawls.contains("at full throttle it reaches 3.6 km/h") && crawls.contains("locks up at full throttle"),
        "{crawls}"
    );
}

#[test]
fn a_start_that_burns_or_overheats_is_warned_of_from_cold_or_else_warm() {
    let said = |burns: Option<f64>, warm: Option<HillStart>| {
        let mut sheet = sheet(&machine(2000.0, 1.0)).expect("a sheet");
        (sheet.launch.grade, sheet.launch.burns, sheet.warm) = (0.12, burns, warm);
        advice(&sheet).iter().map(Words::text).collect::<String>().replace('\u{a0}', " ")
    };
    assert_eq!(said(None, None), "");
    let cold = said(Some(2300.0), Some(WARM));
    assert!(cold.starts_with("Do not start it on a slope of 12 %: from cold the clutch burns"), "{cold}");
    let warm = said(None, Some(WARM));
    assert!(warm.contains("warm from stop-and-go its lining reaches 283 °C"), "{warm}");
    assert_eq!(said(None, Some(HillStart { lining: 480.0, burns: None, ..WARM })), "");
}
