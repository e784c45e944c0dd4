//! Figures of fleets.

use super::{holds, keep};
use crate::made_up::fleet::fleets;
use crate::made_up::shop;
use crate::made_up::sweep::SCRIPT;
use slipsoak_engine::document::Kind;
use slipsoak_engine::fleet::{Outcome, Report};
use slipsoak_engine::names::Part;
use slipsoak_engine::stack_up::{Fails, Gaps};
use slipsoak_plots::{DrawError, Figure, Look};

const HOUR: f64 = 3600.0;

#[test]
fn the_figures_of_a_fleet_show_failures_bounds_and_clutches_that_last() {
    let report = fleets(&[("1750 rpm", 90.0, 0.7), ("1900 rpm", 300.0, 2.0), (SCRIPT, 700.0, 3.0)]);
    for figure in Figure::of(Kind::Fleet) {
        let drawing = figure.draw(&report, &Look::default()).expect("it draws");
        keep(figure.name(), &drawing);
        holds(&drawing, &["1750 rpm", "&lt;script", "of 20", "role=\"img\""]);
        let wanted: &[&str] = match figure {
            Figure::StillRunning => &[
                "still running of 20",
                "hours the motor runs",
                "two failed",
                "Wilson",
                "11 of 20 still run",
                "all 20 have failed",
                "\nwashers\n",
                "\nlinings\n",
                "\nsprings\n",
                "\noil services\n",
                "Spares in each 100\u{a0}h",
            ],
            _ => &["times as long", "1900 rpm against 1750 rpm", "20 of 20 last longer"],
        };
        holds(&drawing, wanted);
    }
}

#[test]
fn every_failed_clutch_has_a_mark_in_its_fleet_s_row_and_every_oil_service_a_hollow_one() {
    let report = fleets(&[("1750 rpm", 90.0, 0.7), ("1900 rpm", 300.0, 2.0)]);
    let svg = Figure::StillRunning.draw(&report, &Look::default()).expect("it draws").svg;
    // Parts in turn: washer, lining, spring; the lining's mark is a dot.
    let failed =
        |part: Part| report.fleets.iter().flat_map(|f| &f.outcomes).filter(|o| o.ended_by == Some(part)).count();
    let due = report.fleets.iter().flat_map(|f| &f.outcomes).filter(|o| o.service_due.is_some()).count();
    assert_eq!(svg.matches("<circle").count(), failed(Part::Lining) + 2 * due, "a ring has a ground within it");
    assert_eq!(svg.matches("r=\"25\"").count(), due, "ground of the rings");
}

#[test]
fn where_few_fail_the_axis_of_those_that_run_begins_below_the_least_bound_and_says_so() {
    let mut report = fleets(&[("A", 300.0, 2.0)]);
    let svg = |report: &Report| Figure::StillRunning.draw(report, &Look::default()).expect("it draws").svg;
    assert!(svg(&report).contains("\nstill running of 20\n"), "of 20 many fail: from none");
    let fleet = &mut report.fleets[0];
    let kept = fleet.outcomes.iter().position(|o| o.ended_by.is_some()).expect("one fails");
    for (_, outcome) in fleet.outcomes.iter_mut().enumerate().filter(|(k, _)| *k != kept) {
        (outcome.end, outcome.running, outcome.ended_by) = (None, None, None);
    }
    // One of 20: Wilson's 90 % bounds are 1.2 and 20 % (from memory: z = 1.645, (p + z²/2n ± z √(pq/n + z²/4n²))/(1 + z²/n)),
    // so that 16.0 of 20 still run at least; the axis begins at the next even number below.
    assert!(svg(&report).contains("still running of 20, axis from 14"), "one fails");
}

#[test]
fn the_longest_lived_fleet_is_measured_by_the_second_failure_against_the_reference() {
    // Weibull's quantiles at even shares: the second of twenty at (−ln(1 − 1.5/20))^(1/2) = 0.279 of the scale.
    let report = fleets(&[("A", 300.0, 2.0), ("B", 600.0, 2.0)]);
    let svg = Figure::StillRunning.draw(&report, &Look::default()).expect("it draws").svg;
    let words: Vec<&str> = svg.split_whitespace().collect();
    let title = "The second of 20 fails after 170\u{a0}h of running with “B”, 84\u{a0}h of running with “A”";
    assert!(svg.contains(title), "{:?}", words.get(..60));
    assert!(svg.contains("\n+84\u{a0}h\n"), "the distance of both");
}

#[test]
fn no_heading_recommends_a_fleet_with_clutches_beyond_the_model() {
    let mut report = fleets(&[("A", 300.0, 2.0), ("B", 600.0, 2.0), ("C", 400.0, 2.0)]);
    report.fleets[1].beyond = Some((2, 800.0));
    let svg = Figure::StillRunning.draw(&report, &Look::default()).expect("it draws").svg;
    let title = svg.split_once("<title>").expect("a title").1.split("</title>").next().expect("ends");
    assert!(title.contains("“C”") && title.contains("“A”") && !title.contains("“B”"), "{title}");
    assert!(svg.contains("beyond the model are left out"));
}

#[test]
fn a_fleet_of_many_clutches_is_compared_by_its_first_tenth_and_drawn_in_bars() {
    let mut report = fleets(&[("A", 300.0, 2.0), ("B", 500.0, 2.0)]);
    for fleet in &mut report.fleets {
        let many: Vec<Outcome> = (0..25)
            .flat_map(|copy| fleet.outcomes.iter().map(move |o| Outcome { clutch: 20 * copy + o.clutch, ..o.clone() }))
            .collect();
        *fleet = slipsoak_engine::fleet::report(&fleet.variant, "rounds", fleet.horizon, &[], many);
    }
    report.clutches = 500;
    report.pairs = slipsoak_engine::fleet::paired(&report.fleets, None);
    let svg = Figure::StillRunning.draw(&report, &Look::default()).expect("it draws").svg;
    assert!(svg.contains("a tenth failed, 50") && svg.contains("A tenth of 500 fail after"), "the level");
    assert_eq!(svg.matches("<circle").count(), 0, "no mark for each");
    assert!(svg.contains("bars, from below: "), "the order tells parts apart in a grey print");
    let gains = Figure::Gains.draw(&report, &Look::default()).expect("it draws").svg;
    assert!(gains.contains("500 of 500 last longer"));
}

#[test]
fn where_few_of_many_clutches_fail_each_has_its_part_s_mark() {
    let mut report = fleets(&[("A", 300.0, 2.0), ("B", 500.0, 2.0)]);
    for fleet in &mut report.fleets {
        let whole = |o: &Outcome| Outcome {
            end: None,
            running: None,
            ended_by: None,
            service_due: None,
            service_running: None,
            ..o.clone()
        };
        let many = (1..25)
            .flat_map(|copy| fleet.outcomes.iter().map(move |o| Outcome { clutch: 20 * copy + o.clutch, ..whole(o) }));
        let all = fleet.outcomes.iter().cloned().chain(many).collect();
        *fleet = slipsoak_engine::fleet::report(&fleet.variant, "rounds", fleet.horizon, &[], all);
    }
    report.clutches = 500;
    report.pairs = slipsoak_engine::fleet::paired(&report.fleets, None);
    let svg = Figure::StillRunning.draw(&report, &Look::default()).expect("it draws").svg;
    assert!(svg.contains(": lining") && !svg.contains("from below"), "marks");
}

#[test]
fn figures_and_answer_of_a_fleet_are_never_empty_if_no_end_was_reached() {
    let mut report = fleets(&[("A", 1e7, 3.0), ("B", 1e7, 3.0)]);
    for fleet in &mut report.fleets {
        fleet.outcomes.iter_mut().for_each(|o| o.running_share = 0.5);
        *fleet = slipsoak_engine::fleet::report(&fleet.variant, "rounds", fleet.horizon, &[], fleet.outcomes.clone());
    }
    let names: Vec<&str> =
        slipsoak_plots::drawn(&report.clone().into(), &Look::default()).iter().map(|d| d.0).collect();
    assert_eq!(names, ["still-running"], "where no life is known, none is compared");
    for figure in [Figure::StillRunning] {
        let drawing = figure.draw(&report, &Look::default()).expect("it draws");
        // 600 h of the duty, with the motor running for half of it.
        holds(&drawing, &["within 300\u{a0}h of running (3.6\u{a0}weeks)", "none of 20 in 3.6\u{a0}weeks"]);
        // 1 − 0.05^(1/20) = 13.9 %.
        holds(&drawing, &["under 14\u{a0}% at 95\u{a0}%"]);
        assert!(!drawing.svg.contains("still running of"), "no empty chart");
        for empty in ["– to", "to –", "B10 –", "h (–"] {
            assert!(!drawing.svg.contains(empty), "{}: {empty}", figure.name());
        }
    }
    let said = slipsoak_plots::words::fleet::answer(&report);
    assert!(said[0].text().contains("within 300\u{a0}h of running (600\u{a0}h by the calendar)"), "{}", said[0].text());
    assert!(said[1].text().starts_with("Oil service is due in none"), "{}", said[1].text());
}

#[test]
fn with_more_fleets_than_rows_the_reference_the_best_and_the_worst_are_shown() {
    // The first has a middling life, the others ever longer ones.
    let names: Vec<String> = (0..12).map(|k| format!("fleet {k:02}")).collect();
    let lives = [145.0, 50.0, 70.0, 90.0, 110.0, 130.0, 150.0, 170.0, 190.0, 210.0, 230.0, 250.0];
    let kinds: Vec<(&str, f64, f64)> = names.iter().zip(lives).map(|(n, life)| (n.as_str(), life, 2.0)).collect();
    let drawing = Figure::StillRunning.draw(&fleets(&kinds), &Look::default()).expect("it draws");
    let seen: Vec<usize> = (0..12).filter(|k| drawing.svg.contains(&format!("\nfleet {k:02}\n"))).collect();
    assert_eq!(seen, [0, 1, 2, 3, 8, 9, 10, 11]);
    let words: Vec<&str> = drawing.svg.split_whitespace().collect();
    assert!(words.join(" ").contains("4 longest-lived"), "the note says which");
    // The first compared counts once, although it is the longest-lived.
    let kinds: Vec<(&str, f64, f64)> =
        kinds.iter().map(|k| if k.0 == "fleet 00" { (k.0, 400.0, k.2) } else { *k }).collect();
    let drawing = Figure::StillRunning.draw(&fleets(&kinds), &Look::default()).expect("it draws");
    let seen: Vec<usize> = (0..12).filter(|k| drawing.svg.contains(&format!("\nfleet {k:02}\n"))).collect();
    assert_eq!(seen, [0, 1, 2, 3, 8, 9, 10, 11]);
}

#[test]
fn a_use_that_ruins_the_clutch_has_no_figure_of_its_wear_and_no_heading_for_one() {
    let mut gaps = shop::gaps();
    let page = |gaps: &Gaps| slipsoak_plots::page::Page::of(&gaps.clone().into()).html();
    assert!(page(&gaps).contains("</svg>") && page(&gaps).contains(">Figure</h2>"));
    // A dry washer that chars ends its curve; the other goes on.
    gaps.courses[1].fails = Some(Fails { part: Part::Charring, after: 30.0 * HOUR });
    let drawing = Figure::Gaps.draw(&gaps, &Look::default()).expect("it draws");
    holds(&drawing, &["washer chars after 30\u{a0}h", "kept oiled, due"]);
    gaps.courses[0].fails = Some(Fails { part: Part::Seized, after: 0.5 * HOUR });
    assert!(!page(&gaps).contains("</svg>") && !page(&gaps).contains(">Figure</h2>"));
}

#[test]
fn a_fleet_without_clutches_is_refused_and_one_is_drawn() {
    let mut report = fleets(&[("one", 90.0, 0.7)]);
    report.fleets[0].outcomes.truncate(1);
    Figure::StillRunning.draw(&report, &Look::default()).expect("it draws");
    assert_eq!(Figure::Gains.draw(&report, &Look::default()), Err(DrawError::Empty), "nothing to compare with");
    report.fleets[0] = slipsoak_engine::fleet::report("one", "rounds", 600.0 * HOUR, &[], vec![]);
    assert_eq!(Figure::StillRunning.draw(&report, &Look::default()), Err(DrawError::Empty));
    let said = slipsoak_plots::words::fleet::answer(&report);
    assert!(said[0].text().contains("nothing is known"), "{}", said[0].text());
    assert!(!slipsoak_plots::page::Page::of(&report.clone().into()).html().contains("NaN"));
    report.fleets.clear();
    assert_eq!(Figure::StillRunning.draw(&report, &Look::default()), Err(DrawError::Empty));
    assert!(slipsoak_plots::words::fleet::answer(&report).is_empty());
}

#[test]
fn a_fleet_in_which_nothing_ends_says_so_and_shares_that_failed_are_compared() {
    let text = |report: &Report| {
        let said = slipsoak_plots::words::fleet::answer(report);
        said.iter().map(slipsoak_plots::words::text::Words::text).collect::<Vec<_>>().join("\n")
    };
    let mut idle = fleets(&[("A", 1.0, 2.0), ("B", 1.0, 2.0)]);
    for fleet in &mut idle.fleets {
        let spared: Vec<Outcome> =
            fleet.outcomes.iter().map(|o| Outcome { end: None, running: None, ended_by: None, ..o.clone() }).collect();
        *fleet = slipsoak_engine::fleet::report(&fleet.variant, &fleet.duty, fleet.horizon, &[], spared);
    }
    idle.pairs.clear();
    let said = text(&idle);
    assert!(
        said.starts_with("None of the 20 clutches of each fleet wears a part out within 600\u{a0}h of running"),
        "{said}"
    );
    assert!(!said.contains("latest") && !said.contains("longest with"), "{said}");
    // A lining of B wears out: shares are compared, because neither has a B10.
    let ended = &mut idle.fleets[1].outcomes[0];
    (ended.end, ended.running, ended.ended_by) = (Some(1.0), Some(1.0), Some(Part::Lining));
    let b = idle.fleets[1].clone();
    idle.fleets[1] = slipsoak_engine::fleet::report(&b.variant, &b.duty, b.horizon, &[], b.outcomes);
    let said = text(&idle);
    assert!(said.starts_with("Within ") && said.contains("0\u{a0}% ("), "{said}");
    assert!(
        said.contains("with “A”") && said.contains("with “B”") && said.contains("first worn part is the lining"),
        "{said}"
    );
}

#[test]
fn the_most_frequent_first_worn_part_is_that_of_each_fleet_where_they_differ() {
    let said = |second: Part| {
        let mut two = fleets(&[("A", 1.0, 2.0), ("B", 1.0, 2.0)]);
        for (fleet, part) in two.fleets.iter_mut().zip([Part::Washer, second]) {
            let ended = fleet.outcomes.iter().map(|o| Outcome { ended_by: Some(part), ..o.clone() }).collect();
            *fleet = slipsoak_engine::fleet::report(&fleet.variant, &fleet.duty, fleet.horizon, &[], ended);
        }
        let said = slipsoak_plots::words::fleet::answer(&two);
        let said: Vec<String> = said.iter().map(slipsoak_plots::words::text::Words::text).collect();
        said.into_iter().find(|text| text.starts_with("The most frequent")).expect("parts wear out")
    };
    let differ = "The most frequent first worn part is the washer with “A” in 100\u{a0}% of the clutches, the seized bushing with “B” in 100\u{a0}% of the clutches. A bushing seizes for want of sound oil: `slipsoak oiling` says how often to oil it.";
    assert_eq!(said(Part::Seized), differ);
    assert_eq!(said(Part::Washer), "The most frequent first worn part is the washer, in 100\u{a0}% of the clutches.");
}

/// Weibull's quantiles at even shares: the second of twenty at 0.279 of the scale. Two that differ by a quarter are not “alike”.
#[test]
fn fleets_whose_clutches_fail_nearly_alike_are_said_each_by_its_own_time() {
    let title = |names: &[(&str, f64, f64)]| {
        let svg = Figure::StillRunning.draw(&fleets(names), &Look::default()).expect("it draws").svg;
        svg.split_once("<title>").expect("a title").1.split("</title>").next().expect("ends").replace('\u{a0}', " ")
    };
    let [a, b, c] = [("A", 125.0, 2.0), ("B", 154.0, 2.0), ("C", 140.0, 2.0)];
    assert_eq!(title(&[a, b]), "The second of 20 fails after 43 h of running with “B”, 35 h of running with “A”");
    assert_eq!(
        title(&[a, b, c]),
        "The second of 20 fails after 35 h of running with “A”, first of 3 fleets, and after 43 h of running with “B”, last"
    );
    assert_eq!(title(&[a, ("D", 125.0, 2.0)]), "With each of 2 fleets the second of 20 fails after 35 h of running");
}

/// Of a fleet with the wrong oil in which none fails, the row says both in two lines; a third would touch the next row.
#[test]
fn a_row_of_a_fleet_with_the_wrong_oil_has_two_lines() {
    let mut report = fleets(&[("A", 300.0, 2.0), ("B", 1e6, 2.0)]);
    report.fleets[1].outcomes.iter_mut().for_each(|outcome| outcome.wrong_oil = true);
    let svg = Figure::StillRunning.draw(&report, &Look::default()).expect("it draws").svg;
    assert!(svg.contains("\n+ wrong oil: never use\n") && svg.contains("\nnone of 20 in "), "{svg}");
    assert!(!svg.contains("\nunder 14\u{a0}% at 95"), "the bounds of a fleet that is not to be used");
}
