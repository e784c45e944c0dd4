//! Fleets.

use super::said::{HOUR, RPM, Said, clauses, sentences};
use crate::made_up::fleet::fleets;
use slipsoak_engine::failed::Failed;
use slipsoak_engine::fleet::{Direction, Report};
use slipsoak_engine::names::Part;
use slipsoak_engine::statistics::Fit;
use slipsoak_plots::page::Page;
use slipsoak_plots::words;
use slipsoak_plots::words::text::Words;
use slipsoak_plots::{Figure, Look};

pub fn of_fleets() -> Vec<Said> {
    let mut report = fleets(&[("1800 rpm", 90.0, 2.0), ("1900 rpm", 145.0, 2.0), ("2000 rpm", 60.0, 0.7)]);
    let failed = |n: u64| Failed { item: n, what: format!("clutch {n}"), why: "the motor stalls".to_owned() };
    report.failed = (0..5).map(failed).collect();
    let several = words::fleet::answer(&report);
    let one = words::fleet::answer(&fleets(&[("1900 rpm", 145.0, 2.0)]));
    let long = words::fleet::answer(&fleets(&[("1900 rpm", 1e6, 2.0), ("2000 rpm", 1e6, 2.0)]));
    let habits = [("after each weekend", 1e6, 2.0), ("after each ride", 1e6, 2.0), ("never", 1000.0, 1.2)];
    let alike = words::fleet::answer(&fleets(&habits));
    let dragging = |several: bool, all: bool| {
        let mut report = fleets(&[("1750 rpm", 1000.0, 2.0), ("1800 rpm", 900.0, 2.0), ("1900 rpm", 800.0, 2.0)]);
        report.fleets.truncate(if several { 3 } else { 1 });
        let fleets = report.fleets.iter_mut().filter(|fleet| all || fleet.variant != "1900 rpm");
        for (fleet, most) in fleets.zip([12, 7, 3]) {
            fleet.outcomes.iter_mut().take(most).for_each(|outcome| outcome.drags = true);
        }
        words::fleet::answer(&report)
    };
    let mut many = fleets(&[("1750 rpm", 1000.0, 2.0), ("1900 rpm", 800.0, 2.0)]);
    for fleet in &mut many.fleets {
        fleet.outcomes = fleet.outcomes.iter().cycle().take(200).cloned().collect();
    }
    many.fleets[1].outcomes[0].drags = true;
    many.fleets[0].outcomes.iter_mut().for_each(|outcome| outcome.drags = true);
    let rare = words::fleet::answer(&many);
    let mut small = fleets(&[("1750 rpm", 1000.0, 2.0)]);
    small.fleets[0].outcomes.truncate(10);
    small.fleets[0].outcomes[0].drags = true;
    let one_drags = words::fleet::answer(&small);
    // Springs of this many clutches are hotter than is known, of one machine or of the first of two.
    let hot_springs = |several: bool, most: usize| {
        let mut report = fleets(&[("1750 rpm", 1000.0, 2.0), ("1900 rpm", 800.0, 2.0)]);
        report.fleets.truncate(if several { 2 } else { 1 });
        for outcome in report.fleets[0].outcomes.iter_mut().take(most) {
            outcome.springs = Some((489.0, 473.15));
        }
        report
            .fleets
            .iter_mut()
            .enumerate()
            .for_each(|(k, fleet)| fleet.engagement = Some((1750.0 + 150.0 * k as f64) * RPM));
        words::fleet::answer(&report)
    };
    let hot_springs = [(false, 6), (true, 6), (true, 1)].map(|(several, most)| hot_springs(several, most));
    // The habits that last longest have a wrong oil: one of them, two, all.
    let wrong = |names: &[(&str, f64, f64)], wrong: usize| {
        let mut report = fleets(names);
        let all = report.fleets.iter_mut().take(wrong).flat_map(|fleet| &mut fleet.outcomes);
        all.for_each(|outcome| outcome.wrong_oil = true);
        words::fleet::answer(&report)
    };
    let oils = [("PTFE", 1000.0, 2.0), ("silicone", 900.0, 2.0), ("plain", 500.0, 2.0), ("never", 400.0, 2.0)];
    let mut hot = fleets(&[("1800 rpm", 90.0, 2.0), ("1900 rpm", 145.0, 2.0), ("2000 rpm", 60.0, 0.7)]);
    hot.fleets[1].beyond = Some((2, 800.0));
    let some_hot = words::fleet::answer(&hot);
    hot.fleets.truncate(2);
    hot.fleets[0].beyond = Some((20, 900.0));
    hot.fleets[0].outcomes.clear();
    let all_hot = words::fleet::answer(&hot);
    let mut fleet = report.fleets[0].clone();
    let tested = [
        Some(Fit::Untested),
        Some(Fit::Accepted { statistic: 0.45, critical: 0.76 }),
        Some(Fit::Rejected { statistic: 0.95, critical: 0.76 }),
        None,
    ];
    let mut distributions = tested.map(|fit| {
        fleet.fit = fit;
        words::fleet::distribution(&fleet)
    });
    let mut pair = report.pairs[0].end.clone();
    let gains = [Direction::Longer, Direction::Shorter, Direction::Unclear, Direction::TooFew, Direction::Undecided];
    let gains = gains.map(|verdict| {
        (pair.verdict, pair.unknown) = (verdict, 3);
        words::fleet::gain(&pair)
    });
    distributions.sort_by_key(Words::text);
    let mut springs = fleets(&[("1900 rpm", 90.0, 2.0), ("2100 rpm", 80.0, 2.0)]);
    for (fleet, rpm) in springs.fleets.iter_mut().zip([1900.0, 2100.0]) {
        fleet.engagement = Some(rpm * RPM);
    }
    let springs = words::fleet::answer(&springs);
    let clear = springs[0].text();
    assert!(clear.contains("with “1900 rpm” drags, but up to") && clear.contains("Ask `choose`"), "{clear}");
    // Bushings that grab before their oil is due are not for want of service, as those that grab after it.
    let mut grabs = fleets(&[("1900 rpm", 90.0, 2.0), ("2100 rpm", 80.0, 2.0)]);
    for (fleet, due) in grabs.fleets.iter_mut().zip([50.0, 30.0]) {
        for outcome in &mut fleet.outcomes {
            (outcome.running, outcome.ended_by) = (Some(40.0 * HOUR), Some(Part::Seized));
            outcome.service_running = Some(due * HOUR);
        }
    }
    assert_eq!(
        grabs.fleets.iter().map(slipsoak_engine::fleet::Fleet::grabbing).collect::<Vec<_>>(),
        [grabs.fleets[0].outcomes.len(), 0]
    );
    let mut later = grabs.clone();
    later.fleets[0].outcomes.iter_mut().skip(8).for_each(|outcome| outcome.service_running = Some(30.0 * HOUR));
    // What was not followed for a season is not said of it.
    let mut short = grabs.clone();
    short.fleets.iter_mut().for_each(|fleet| (fleet.horizon, fleet.running_share) = (200.0 * HOUR, 0.25));
    let refused = words::fleet::answer(&short)[0].text();
    assert!(refused.contains("grabs its shaft within 50\u{a0}h of running"), "{refused}");
    vec![
        sentences("fleets of which the bushings of one grab before their oil is due", &words::fleet::answer(&grabs)),
        sentences("fleets of which some bushings grab later", &words::fleet::answer(&later)),
        sentences("fleets", &several),
        sentences("fleets of which one is beyond the model", &some_hot),
        sentences("fleets that are beyond the model", &all_hot),
        sentences("a fleet", &one),
        sentences("fleets that last", &long),
        sentences("fleets of which two last alike", &alike),
        sentences("fleets of springs of which none drags at idle", &springs),
        sentences("fleets of which some drag at idle", &dragging(true, false)),
        sentences("fleets that drag at idle", &dragging(true, true)),
        sentences("a fleet that drags at idle", &dragging(false, true)),
        sentences("a large fleet of which one clutch drags at idle", &rare),
        sentences("a small fleet of which one clutch drags at idle", &one_drags),
        sentences("a fleet of which springs are hotter than is known", &hot_springs[0]),
        sentences("fleets of which springs of one are hotter than is known", &hot_springs[1]),
        sentences("fleets of which one spring is hotter than is known", &hot_springs[2]),
        sentences("fleets of which one has the wrong oil", &wrong(&oils[1..], 1)),
        sentences("fleets of which all but one have the wrong oil", &wrong(&oils[..3], 2)),
        sentences("fleets with the wrong oil", &wrong(&oils[..2], 2)),
        sentences("a fleet with the wrong oil", &wrong(&oils[..1], 1)),
        clauses("a fleet against another", &gains),
        Said { clauses: true, ..sentences("distribution of a fleet", &distributions) },
    ]
}

/// The habit with PTFE lasts longest: it begins the answer, and no other sentence and no figure names it as the better one.
#[test]
fn a_fleet_with_the_wrong_oil_is_named_first_and_as_the_best_nowhere() {
    let mut report = fleets(&[("never", 90.0, 2.0), ("PTFE", 900.0, 2.0), ("plain", 145.0, 2.0)]);
    report.fleets[1].outcomes[3].wrong_oil = true;
    let said = words::fleet::answer(&report).iter().map(Words::text).collect::<Vec<_>>();
    assert!(said[0].starts_with("Never use the oil of “PTFE”: "), "{said:?}");
    assert!(said[1].contains("longest with “plain”"), "{said:?}");
    assert!(said[1..].iter().all(|one| !one.contains("PTFE")), "{said:?}");
    let figure = |figure: Figure| figure.draw(&report, &Look::default()).expect("it draws").svg;
    let (running, gains) = (figure(Figure::StillRunning), figure(Figure::Gains));
    let title = |svg: &str| svg.split_once("<title>").expect("a title").1.split("</title>").next().unwrap().to_owned();
    assert!(title(&running).contains("“plain”") && !title(&running).contains("PTFE"), "{}", title(&running));
    assert!(title(&gains).contains("“plain”") && !title(&gains).contains("PTFE"), "{}", title(&gains));
    assert!(running.contains("+ wrong oil: never use") && gains.contains("PTFE (+ wrong oil) against never"));
    let page = Page::of(&report.clone().into()).html();
    assert!(page.contains("PTFE (+ wrong oil)"));
    // Of wrong oils alone the better one is still none to use.
    report.fleets.iter_mut().flat_map(|fleet| &mut fleet.outcomes).for_each(|outcome| outcome.wrong_oil = true);
    assert!(words::fleet::answer(&report)[0].text().starts_with("Never use the oil of any of these: "));
    assert!(
        title(&Figure::Gains.draw(&report, &Look::default()).expect("it draws").svg).contains("but never use an oil")
    );
}

#[test]
fn fleets_that_drag_and_last_longer_are_not_said_to_last_less_long() {
    let mut report = fleets(&[("1750 rpm", 1000.0, 2.0), ("1900 rpm", 800.0, 2.0), ("2000 rpm", 700.0, 2.0)]);
    report.fleets[0].outcomes.iter_mut().for_each(|outcome| outcome.drags = true);
    let said = |report: &Report| words::fleet::answer(report).iter().map(|said| said.text() + " ").collect::<String>();
    let three = said(&report);
    assert!(
        three.contains("Of those that do not drag the B10 life") && three.contains("is longest with “1900 rpm”"),
        "{three}"
    );
    assert!(three.contains("with the first compared, “1750 rpm”, which drags"), "{three}");
    report.fleets.truncate(2);
    let two = said(&report);
    assert!(!two.contains("longest") && two.contains("with “1750 rpm”, which drags"), "{two}");
}
