//! Temperatures and lives of all runs on one axis.

use crate::made_up::fleet::fleets;
use crate::made_up::sweep::{axis, sweep};
use crate::made_up::{NAMES, record};
use slipsoak_engine::names::Part;
use slipsoak_engine::record::{Warned, Warning};
use slipsoak_engine::units::HOUR;
use slipsoak_plots::page::Page;
use slipsoak_plots::words;
use slipsoak_plots::words::answer::{answer, sure};
use slipsoak_plots::words::text::Words;
use slipsoak_plots::{Figure, Look};

fn svg(figure: Figure, record: &slipsoak_engine::record::Record) -> String {
    figure.draw(record, &Look::default()).expect("it draws").svg
}

/// Number of rows whose words hold this text.
fn rows(svg: &str, text: &str) -> usize {
    svg.matches(text).count()
}

#[test]
fn a_run_that_must_not_be_fitted_is_never_the_longest_and_the_others_are_shares_of_the_best_that_fits() {
    let mut all = record(&NAMES);
    for (k, run) in all.runs.iter_mut().enumerate() {
        run.warnings.clear();
        run.engagement.settled = None;
        for row in &mut run.overall.least {
            *row = f64::NAN;
        }
        for part in &mut run.parts {
            (part.life, part.running) = (Some(1e6 * (k + 2) as f64), Some(1e6 * (k + 2) as f64));
        }
    }
    let last = all.runs.len() - 1;
    let fits = svg(Figure::LifeCompared, &all);
    assert_eq!((rows(&fits, "longest that fits\n"), rows(&fits, "unfit:")), (1, 0));
    let share = format!("· {:.0}\u{a0}%", 100.0 * (last + 1) as f64 / (last + 2) as f64);
    assert!(fits.contains(&share), "{share}");
    all.runs[last].warnings = vec![Warning { kind: Warned::Drag, value: 0.5, limit: 0.05 }];
    let drags = svg(Figure::LifeCompared, &all);
    assert_eq!((rows(&drags, "longest that fits\n"), rows(&drags, "unfit: drags at idle\n")), (1, 1));
    assert!(!drags.contains(&share), "the longest no longer counts");
}

#[test]
fn what_ends_a_life_and_forbids_it_is_said_once() {
    let mut all = record(&["1800 rpm", "1900 rpm"]);
    for (run, hours) in all.runs.iter_mut().zip([29.0, 40.0]) {
        run.warnings.clear();
        run.parts.truncate(2);
        for (part, (of, life)) in run.parts.iter_mut().zip([(Part::Seized, hours), (Part::Oil, 50.0)]) {
            (part.part, part.life, part.running) = (of, Some(life * HOUR), Some(life * HOUR));
        }
    }
    for figure in [Figure::LifeCompared, Figure::Comparison] {
        let drawn = svg(figure, &all);
        let again = ["bushing grabs, bushing grabs", "unfit: bushing grabs"].iter().any(|twice| drawn.contains(twice));
        assert!(drawn.contains("29\u{a0}h, bushing grabs") && !again, "{figure:?}: {drawn}");
    }
}

#[test]
fn every_run_has_a_curve_and_a_bar_of_each_temperature_and_every_one_can_be_hidden() {
    let all = record(&NAMES);
    let drawn = svg(Figure::TemperaturesCompared, &all);
    for (k, name) in NAMES.iter().enumerate() {
        let start: String = name.replace('<', "&lt;").replace('>', "&gt;").chars().take(14).collect();
        assert!(drawn.matches(&format!("\n{start}")).count() >= 2, "{name}");
        assert!(drawn.contains(&format!("of-{k}")), "{name}");
    }
    assert_eq!(drawn.matches("\nlast quarter\n").count(), 2);
}

#[test]
fn one_run_has_nothing_to_be_compared_with() {
    let compared = |names: &[&str]| {
        let page = Page::of(&record(names).into()).html();
        ["Temperatures compared", "Life compared"].map(|words| page.contains(words))
    };
    assert_eq!(compared(&NAMES), [true; 2]);
    assert_eq!(compared(&NAMES[..1]), [false; 2]);
}

#[test]
fn habits_of_one_machine_are_not_ranked_by_their_wear_and_lives_within_a_twentieth_are_alike() {
    let mut all = record(&NAMES);
    for (k, run) in all.runs.iter_mut().enumerate() {
        run.warnings.clear();
        run.engagement.settled = None;
        run.overall.least.fill(f64::NAN);
        let life = 1e6 + 1e4 * k as f64;
        run.parts.iter_mut().for_each(|part| (part.life, part.running) = (Some(life), Some(life)));
    }
    assert_eq!(rows(&svg(Figure::LifeCompared, &all), " · alike\n"), NAMES.len() - 1);
    for (k, run) in all.runs.iter_mut().enumerate() {
        (run.variant, run.duty) = ("cart".to_owned(), format!("habit {k}"));
    }
    let habits = svg(Figure::LifeCompared, &all);
    assert_eq!((rows(&habits, "longest that fits\n"), rows(&habits, "alike\n")), (0, 0));
}

#[test]
fn lives_are_said_to_come_from_a_run_that_has_one() {
    let mut record = record(&NAMES[..2]);
    let stopped = &mut record.runs[0];
    (stopped.duration, stopped.running_time) = (120.0, 120.0);
    for part in &mut stopped.parts {
        (part.life, part.running) = (None, None);
    }
    let said = sure(&record).text();
    assert!(said.contains("from 1.5\u{a0}h of duty"), "{said}");
}

#[test]
fn parts_reach_their_limits_in_hours_of_running_to_two_figures() {
    let mut record = record(&NAMES[..2]);
    for part in record.runs.iter_mut().flat_map(|run| &mut run.parts) {
        (part.life, part.running) = (Some(98_765.4 * 3600.0), Some(12_345.6 * 3600.0));
    }
    let text = Page::of(&record.into()).text(100, true);
    let table = text.split("hours of running\n").nth(1).expect("a table");
    let table: String = table.split_whitespace().collect();
    assert!(table.contains("12000") && !table.contains("99000"), "{table}");
}

/// The second lasts half as long again, in hours.
#[test]
fn what_lasts_more_hours_for_less_distance_is_not_called_best_without_the_distance() {
    let said = |distance: f64| {
        let mut all = record(&NAMES[..2]);
        for (k, run) in all.runs.iter_mut().enumerate() {
            run.warnings.clear();
            run.engagement.settled = None;
            run.overall.least.iter_mut().for_each(|value| *value = f64::NAN);
            for part in &mut run.parts {
                (part.life, part.running) = (Some(1e6 * (k + 2) as f64), Some(1e6 * (k + 2) as f64));
            }
            (run.distance, run.running_time) = (9000.0, 3600.0);
        }
        all.runs[1].distance = distance;
        answer(&all).iter().map(Words::text).collect::<Vec<_>>().join(" ")
    };
    let by = format!("by distance “{}” lasts longest", NAMES[0]);
    let hour =
        format!("in an hour of running “{}” covers 4.5\u{a0}km (2.8\u{a0}mi), “{}” 9\u{a0}km", NAMES[1], NAMES[0]);
    let less = said(4500.0);
    assert!(less.contains(&by) && less.contains(&hour), "{less}");
    for same in [said(9000.0), said(8500.0), said(7000.0)] {
        assert!(!same.contains("by distance"), "{same}");
    }
}

/// Of two fleets, the first lives longer and covers this distance in an hour, m; the other 6 km.
#[test]
fn of_fleets_and_sweeps_too_the_longest_distance_is_said_where_hours_do_not_rank_it() {
    let fleets = |hourly: f64| {
        let mut report = fleets(&[("soft", 400.0, 3.0), ("firm", 300.0, 3.0)]);
        report.fleets[0].hourly = hourly;
        words::fleet::answer(&report).iter().map(Words::text).collect::<Vec<_>>().join(" ")
    };
    let by = "covers 3\u{a0}km (1.9\u{a0}mi), “firm” 6\u{a0}km (3.7\u{a0}mi): by distance “firm” lasts longest";
    assert!(fleets(3000.0).contains(by), "{}", fleets(3000.0));
    assert!(!fleets(6000.0).contains("by distance") && !fleets(5000.0).contains("by distance"));
    assert!(!fleets(0.1).contains("by distance"), "a machine that stands");

    let sweep = |hourly: f64| {
        let mut sweep = sweep(vec![axis("vehicle.ratio", &[8.0, 9.0], "")]);
        for (row, lasts) in sweep.rows.iter_mut().zip([4e6, 3e6]) {
            (row.summary.life, row.summary.running, row.summary.hourly) = (Some(lasts), Some(lasts), 6000.0);
        }
        sweep.rows[0].summary.hourly = hourly;
        words::sweep::answer(&sweep).iter().map(Words::text).collect::<Vec<_>>().join(" ")
    };
    let by = "ratio 9” 6\u{a0}km (3.7\u{a0}mi): by distance “gear ratio 9” lasts longest";
    assert!(sweep(3000.0).contains(by), "{}", sweep(3000.0));
    assert!(!sweep(6000.0).contains("by distance"));
}

#[test]
fn what_fits_from_cold_and_gets_much_hotter_is_said_first_not_to_be_chosen_yet() {
    let told = |rises: [f64; 2]| {
        let mut sweep = sweep(vec![axis("vehicle.ratio", &[8.0, 9.0], "")]);
        for (row, rise) in sweep.rows.iter_mut().zip(rises) {
            (row.summary.duration, row.summary.to_come) = (480.0, rise);
        }
        words::sweep::answer(&sweep).iter().map(Words::text).collect::<Vec<_>>().join(" ")
    };
    let first = "Only 8\u{a0}min from cold: ridden on, the bushing gets about 40\u{a0}°C (72\u{a0}°F) hotter, so that";
    assert!(told([10.0, 38.0]).starts_with(first), "{}", told([10.0, 38.0]));
    assert!(told([10.0, 101.0]).contains("about 100\u{a0}°C (180\u{a0}°F) hotter"), "{}", told([10.0, 101.0]));
    assert!(told([10.0, 160.0]).contains("gets far hotter"));
    assert!(!told([10.0, 14.0]).contains("from cold"));
}
