//! Cautions are given for their findings, and only for them.

use crate::made_up::sweep::{axis, influences, sweep};
use crate::made_up::{NAMES, fleet, record, shop};
use slipsoak_engine::document::Saved;
use slipsoak_engine::finding::Sag;
use slipsoak_engine::names::{Channel, Part, TaskName};
use slipsoak_engine::record::{Record, Run, SegmentSummary, Warned, Warning};
use slipsoak_engine::stack_up::{Fails, Gaps};
use slipsoak_engine::units::{RPM, rpm};
use slipsoak_plots::page::Page;
use slipsoak_plots::words::cautions::{Caution, of_record};
use slipsoak_plots::words::{self, text::Words};

/// Cautions of a record with one changed run.
fn of(change: impl Fn(&mut Record)) -> Vec<Caution> {
    let mut record = record(&NAMES[..1]);
    change(&mut record);
    of_record(&record)
}

/// A cool, dry, level run.
fn cool(record: &mut Record) {
    let oil = Channel::OilOnLining as usize;
    record.runs[0].overall.most[oil] = 0.0;
}

fn peak(celsius: f64) -> Vec<Caution> {
    of(|record| {
        cool(record);
        let lining = Channel::LiningSurface as usize;
        record.runs[0].overall.most[lining] = celsius + 273.15;
    })
}

fn lasting(task: TaskName) -> Vec<Caution> {
    of(|record| {
        cool(record);
        let extremes = record.runs[0].overall.clone();
        record.runs[0].segments = vec![SegmentSummary { task, start: 0.0, end: 5.0, extremes }];
    })
}

#[test]
fn a_hotter_drum_gets_the_cautions_of_smoke_of_vapour_and_of_fire() {
    use Caution::{Fire, Smoke, Vapour};
    assert_eq!(peak(199.0), []);
    assert_eq!(peak(201.0), [Smoke]);
    assert_eq!(peak(221.0), [Vapour]);
    assert_eq!(peak(301.0), [Vapour, Fire]);
}

/// Fleets, sweeps and sensitivities: none said so.
#[test]
fn a_study_whose_duty_has_a_descent_has_its_cautions() {
    let cautioned = |saved: Saved| {
        let page = Page::of(&saved).text(160, true);
        [Caution::Descent, Caution::RollBack].map(|caution| page.contains(&caution.text()[..60]))
    };
    for descends in [false, true] {
        let mut fleets = fleet::fleets(&[("cart", 90.0, 2.0)]);
        fleets.fleets[0].outcomes[0].descends = descends;
        let mut crossed = sweep(vec![axis("vehicle.mass", &[160.0, 200.0], "kg")]);
        crossed.rows[1].summary.descends = descends;
        let mut ranked = influences(0);
        ranked.rankings[0].nominal.descends = descends;
        for saved in [Saved::from(fleets), Saved::from(crossed), Saved::from(ranked)] {
            assert_eq!(cautioned(saved), [descends; 2]);
        }
    }
}

#[test]
fn each_finding_of_a_run_calls_for_its_own_caution() {
    let fill = |fill: f64| {
        of(|record| {
            cool(record);
            let column = Channel::OilFill as usize;
            record.runs[0].overall.least[column] = fill;
        })
    };
    assert_eq!((fill(0.6), fill(0.4)), (vec![], vec![Caution::DryBushing]));
    let slope = of(|record| {
        cool(record);
        let settings = &mut record.runs[0].settings;
        settings.iter_mut().find(|s| s.path == "surroundings.grade").expect("a setting").value = 0.1;
    });
    assert_eq!(slope, [Caution::Descent, Caution::RollBack]);
    assert_eq!((lasting(TaskName::Coast), lasting(TaskName::Hold)), (vec![Caution::Descent], vec![]));
    for kind in [Warned::Drag, Warned::WeakShoe, Warned::Creep, Warned::BushingDrives] {
        let warned = of(|record| {
            cool(record);
            record.runs[0].warnings = vec![Warning { kind, value: 20.0, limit: 0.0 }];
        });
        assert_eq!(warned, [Caution::Creep], "{kind:?}");
    }
}

#[test]
fn a_burning_clutch_calls_for_letting_go_of_the_throttle() {
    let burnt = of(|record| {
        cool(record);
        record.runs[0].warnings = vec![Warning { kind: Warned::LetGo, value: 2100.0, limit: 2000.0 }];
    });
    assert_eq!(burnt, [Caution::LetGo]);
}

#[test]
fn a_use_in_which_a_part_fails_is_forbidden_before_what_it_needs_and_before_the_gap_is_said_to_clear() {
    for (part, fails) in [(Part::Charring, "the washer chars"), (Part::Seized, "the bushing grabs")] {
        let mut gaps = shop::gaps();
        gaps.courses.iter_mut().for_each(|course| course.fails = Some(Fails { part, after: 1500.0 }));
        let first = |gaps: &Gaps| words::gaps::statement(gaps).iter().map(Words::text).collect::<Vec<_>>().join(" ");
        let in_order = |all: &str, texts: &[&str]| {
            let at = |text: &&str| all.find(*text).unwrap_or_else(|| panic!("`{text}` is not in: {all}"));
            let places: Vec<usize> = texts.iter().map(at).collect();
            assert!(places.is_sorted(), "{all}");
        };
        in_order(&first(&gaps), &[fails, "do not use it so", "it clears"]);
        let (idle, settled) = (1700.0 * RPM, 1500.0 * RPM);
        let sag = Sag { settled, new: 1900.0 * RPM, idle, highest: idle, within: 1e6 };
        gaps.sag = Some(sag);
        in_order(&first(&gaps), &[fails, "Lower the idle first", "it clears"]);
        // A spring that drags as given is the cause.
        gaps.sag = Some(Sag { new: 1600.0 * RPM, ..sag });
        in_order(&first(&gaps), &["Lower the idle first", fails, "it clears"]);
    }
}

#[test]
fn the_margin_needed_over_idle_allows_for_the_variation_that_the_script_gives() {
    let needed = |half: f64| {
        let mut record = record(&NAMES[..1]);
        let run = &mut record.runs[0];
        // Nine in ten of motors whose idle is spread evenly by this much about 1700 rpm; the spring engages 10 rpm above.
        run.engagement.idle = Some((rpm(1700.0 - 0.9 * half), rpm(1700.0 + 0.9 * half)));
        run.overall.least[Channel::Engagement as usize] = rpm(1710.0);
        record.runs.push(Run { variant: "other".to_owned(), ..record.runs[0].clone() });
        let said: String = words::answer::answer(&record).iter().map(Words::text).collect();
        let number = said.split(" needed").next().and_then(|text| text.rsplit(' ').next()?.parse::<f64>().ok());
        number.unwrap_or_else(|| panic!("no margin is needed: {said}"))
    };
    // The tolerance of a shop is 75 rpm wider than the assumed variation.
    assert_eq!(needed(150.0) - needed(75.0), 75.0);
}

#[test]
fn a_spring_that_sinks_below_the_idle_in_its_run_is_not_said_to_engage_above_it() {
    let mut record = record(&NAMES[..1]);
    record.runs[0].overall.least[Channel::Engagement as usize] = rpm(1686.0);
    record.runs.push(Run { variant: "other".to_owned(), ..record.runs[0].clone() });
    let said: String = words::answer::answer(&record).iter().map(Words::text).collect();
    assert!(said.contains("14 rpm below idle once hot") && !said.contains("-14") && !said.contains("−14"), "{said}");
}

#[test]
fn a_lining_that_lost_a_tenth_of_its_grip_to_oil_is_oiled_however_little_there_was() {
    let oiled = |least: f64| {
        let found = of(|record| {
            cool(record);
            record.runs[0].grip = Some([least, 1.0]);
        });
        found.contains(&Caution::OiledLining)
    };
    assert!(oiled(0.62) && !oiled(0.95));
}
