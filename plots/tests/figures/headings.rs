//! What figures of several runs say of all of them: headings that follow from every bar, the run that is shown, labels that are said once.

use super::keep;
use crate::made_up::fleet::fleets;
use crate::made_up::shop::gaps;
use crate::made_up::sweep::{axis, sweep};
use crate::made_up::{DURATION, record};
use slipsoak_engine::names::{Entry, Part};
use slipsoak_engine::record::{Record, Warned, Warning};
use slipsoak_engine::stack_up::{Clearance, Gaps};
use slipsoak_engine::units::HOUR;
use slipsoak_plots::{DrawError, Figure, Look, Size, When, draw};

fn drawn(figure: Figure, record: &Record) -> String {
    draw(figure, record, Size::default()).expect("it draws").svg
}

/// The title of a drawing.
fn title(svg: &str) -> &str {
    svg.split("<title>").nth(1).and_then(|rest| rest.split('<').next()).unwrap_or_default()
}

#[test]
fn the_way_that_takes_most_heat_is_said_for_each_run_where_it_is_not_the_same_for_all() {
    let mut three = record(&["a", "b", "c"]);
    assert!(
        title(&drawn(Figure::Heat, &three)).starts_with("Most of the heat, "),
        "{}",
        title(&drawn(Figure::Heat, &three))
    );
    three.runs[1].ledgers.clutch.held.insert(Entry::InShoes, 3e6);
    assert_eq!(
        title(&drawn(Figure::Heat, &three)),
        "The largest share of the heat leaves by the air in 2 and stays in the parts in 1 of 3 runs"
    );
}

#[test]
fn the_figure_of_a_cover_that_does_not_clear_says_so_and_that_of_another_when_to_measure() {
    let mut gaps = gaps();
    let heading = |gaps: &Gaps| title(&Figure::Gaps.draw(gaps, &Look::default()).expect("it draws").svg).to_owned();
    assert!(heading(&gaps).starts_with("Measure the washer"), "{}", heading(&gaps));
    gaps.clearance = Clearance::Touches;
    let refused = heading(&gaps);
    assert!(refused.starts_with("The cover does not") && refused.ends_with("when new"), "{refused}");
    // A washer that within its tolerance is due when new.
    gaps.clearance = Clearance::Clears;
    gaps.courses.iter_mut().for_each(|course| course.washer_due.early = Some(0.0));
    assert_eq!(heading(&gaps), "Measure each washer before it is fitted: it may be due when new");
}

#[test]
fn a_ride_under_several_duties_is_the_gravest_and_its_title_counts_the_others() {
    let mut two = record(&["cart", "cart", "cart"]);
    for (run, duty) in two.runs.iter_mut().zip(["cruise", "hill", "walk"]) {
        run.duty = duty.to_owned();
        run.warnings.clear();
        run.parts.iter_mut().for_each(|part| (part.life, part.running) = (Some(400.0 * HOUR), Some(400.0 * HOUR)));
    }
    let hot = |kind| Warning { kind, value: 560.0, limit: 523.15 };
    two.runs[1].warnings = vec![hot(Warned::Lining)];
    two.runs[2].warnings = vec![hot(Warned::Bushing)];
    let svg = drawn(Figure::Ride, &two);
    assert!(title(&svg).ends_with("(“hill”, one of 3 runs; in 1 other a part is over its limit)"), "{}", title(&svg));
    // It slips with 120 W and more after it has locked.
    assert!(svg.contains("it slips at times"), "{svg}");
}

#[test]
fn a_ride_at_a_moment_is_that_of_a_run_that_has_it_and_is_refused_of_one_that_has_not() {
    let mut two = record(&["short", "long"]);
    two.runs[0].windows.end.iter_mut().for_each(|end| *end *= 0.5);
    two.runs[0].duration *= 0.5;
    let at = |of: &[&str]| {
        let of = of.iter().map(|name| (*name).to_owned()).collect();
        let look = Look { at: vec![When::since_start(0.9 * DURATION)], of, ..Look::default() };
        Figure::Ride.draw(&two, &look)
    };
    assert!(title(&at(&[]).expect("it draws").svg).contains("“long”"));
    let Err(DrawError::NoMoment { run, asked, known }) = at(&["short"]) else { panic!("it is refused") };
    assert_eq!((run.as_str(), asked.as_str()), ("short", "81 min 0 s"));
    assert!(known.contains("launch (10 min 30 s)") && known.ends_with("end (45 min 0 s)"), "{known}");
}

#[test]
fn a_combination_without_a_life_that_does_not_fit_is_drawn_as_the_worst() {
    let mut lives =
        sweep(vec![axis("clutch.engagement", &[1900.0, 2000.0], "rpm"), axis("vehicle.mass", &[160.0, 200.0], "kg")]);
    let worst = &mut lives.rows[3].summary;
    (worst.life, worst.running, worst.warnings) = (None, None, vec![Warned::Beyond]);
    let drawing = Figure::Lives.draw(&lives, &Look::default()).expect("it draws");
    keep("life-beyond", &drawing);
    let shade = |said: &str| {
        let cell = drawing.svg.split(said).nth(1).and_then(|rest| rest.split("fill-amount-").nth(1));
        cell.and_then(|rest| rest.split('"').next()?.parse::<u32>().ok()).expect("a shade")
    };
    let (beyond, shortest) = (shade("no life: beyond the model"), shade("kg, 500\u{a0}h lining"));
    assert!(beyond >= shortest && beyond > 40, "{beyond} {shortest}");
    assert!(drawing.svg.contains("\nbeyond the model\n"));
}

#[test]
fn fleets_of_some_weeks_have_ticks_and_spares_by_the_week() {
    let mut report = fleets(&[("1800 rpm", 90.0, 2.0), ("1900 rpm", 145.0, 2.0)]);
    for fleet in &mut report.fleets {
        (fleet.running_share, fleet.horizon) = (0.3, 4.0 * fleet.horizon);
        fleet.outcomes.iter_mut().for_each(|o| o.end = o.end.map(|end| 4.0 * end));
    }
    assert!(
        report.fleets.iter().all(|fleet| fleet.outcomes.iter().all(|o| o.end.is_none_or(|end| end < 2000.0 * HOUR)))
    );
    let svg = Figure::StillRunning.draw(&report, &Look::default()).expect("it draws").svg;
    assert!(
        svg.contains("\nSpares in each week: ") && svg.contains("\n3\n") && svg.contains("weeks by the calendar"),
        "{svg}"
    );
}

#[test]
fn launches_that_lock_alike_and_parts_with_the_same_mark_are_said_once() {
    let mut two = record(&["cart", "cart"]);
    for (run, duty) in two.runs.iter_mut().zip(["flat", "hill"]) {
        run.duty = duty.to_owned();
    }
    two.runs[1].close_up.as_mut().expect("a launch").rows.iter_mut().for_each(|row| row[5] *= 2.0);
    assert_eq!(drawn(Figure::Launch, &two).matches("\nlocks 5 s\n").count(), 1);
    for (run, part) in two.runs.iter_mut().zip([Part::Charring, Part::Seized]) {
        run.parts.truncate(1);
        run.parts[0].part = part;
    }
    let svg = drawn(Figure::LifeCompared, &two);
    assert!(svg.contains("(cross: washer chars or bushing grabs)"), "{svg}");
}
