//! Temperatures of each run.

use crate::made_up::{NAMES, record};
use slipsoak_engine::names::{Channel, Happening};
use slipsoak_engine::record::{Record, Warned, Warning};
use slipsoak_plots::{Anchor, Figure, Look, Size, When, draw};

#[test]
fn a_figure_says_where_launches_are_too_many_to_list() {
    let mut record = record(&NAMES[..1]);
    let told = |record: &Record| {
        draw(Figure::Temperatures, record, Size::default())
            .expect("it draws")
            .svg
            .contains("The launches are too many to be listed")
    };
    record.runs[0].events_left_out = 7;
    assert!(!told(&record), "the launches are listed");
    record.runs[0].events.retain(|event| event.what != Happening::SetsOff);
    assert!(told(&record));
}

#[test]
fn a_run_far_shorter_than_the_longest_has_its_own_unit_of_time() {
    let mut two = record(&["bench", "season"]);
    let run = &mut two.runs[1];
    run.duration *= 1000.0;
    run.windows.end.iter_mut().chain(&mut run.windows.running).for_each(|end| *end *= 1000.0);
    let svg = draw(Figure::Temperatures, &two, Size::default()).expect("it draws").svg;
    assert!(svg.contains("\ntime, minutes\n"), "the bench");
}

#[test]
fn a_span_cuts_the_compared_temperatures_and_is_the_time_that_the_motor_runs_in_it() {
    let mut two = record(&["1750 rpm", "1900 rpm"]);
    // The motor stands for the windows 101 to 150 of 200, 27 s each.
    for run in &mut two.runs {
        let stands = |k: usize| (k.min(149) - k.min(99)) as f64 * run.windows.length;
        for k in 0..run.windows.running.len() {
            run.windows.running[k] = run.windows.end[k] - stands(k);
        }
        run.running_time = run.duration - stands(199);
    }
    let at = |after: f64| Some(When { anchor: Anchor::Start, after });
    let svg = |from: f64, to: f64| {
        let look = Look { from: at(from), to: at(to), ..Look::default() };
        Figure::TemperaturesCompared.draw(&two, &look).expect("it draws").svg
    };
    // From 2400 s to 4320 s the motor runs for 300 s before and 270 s after its rest, of all 1920 s.
    let cut = svg(2400.0, 4320.0);
    assert!(cut.contains("minutes the motor runs from “40 min 0 s”"), "the title tells from where");
    let ticks = |svg: &str, number: &str| svg.contains(&format!("\n{number}\n"));
    assert!(ticks(&cut, "8") && !ticks(&cut, "12") && !ticks(&cut, "30"), "nine and a half minutes");
    assert!(cut.contains(" from “40 min 0 s”, "), "a point says from where its time counts");
    let stands = svg(3000.0, 3600.0);
    assert!(stands.contains("The motor does not run in this span"), "{stands}");
}

#[test]
fn a_heading_counts_the_bushings_over_their_limit_beside_the_linings() {
    let mut two = record(&["1750 rpm", "1900 rpm"]);
    let heading = |two: &Record| {
        let svg = draw(Figure::TemperaturesCompared, two, Size::default()).expect("it draws").svg;
        svg.split("<title>").nth(1).and_then(|rest| rest.split("</title>").next()).expect("a title").to_owned()
    };
    let steady = |two: &mut Record, kelvin: f64| {
        for run in &mut two.runs {
            let own = run.settings.iter_mut().find(|setting| setting.path == "limits.lining_steady").expect("it");
            own.value = kelvin;
        }
    };
    let [cool, hot] = [0, 1].map(|k| two.runs[k].overall.most[Channel::LiningSurface as usize]);
    for (limit, words) in [
        (cool - 1.0, "; no lining exceeds its limit (all the continuous one), and no bushing"),
        (hot - 1.0, "; no lining exceeds its limit (1 of 2 the continuous one), and no bushing"),
        (hot + 1.0, "; no lining and no bushing exceeds its limit"),
    ] {
        steady(&mut two, limit);
        assert!(heading(&two).ends_with(words), "{}", heading(&two));
    }
    for (run, words) in [(0, "no lining exceeds its limit, 1 of 2 bushings does"), (1, ", 2 of 2 bushings do")] {
        two.runs[run].warnings.push(Warning { kind: Warned::Bushing, value: 380.0, limit: 363.15 });
        assert!(heading(&two).ends_with(words), "{}", heading(&two));
    }
    let most = two.runs[1].settings.iter_mut().find(|setting| setting.path == "limits.lining_most").expect("it");
    most.value = 300.0;
    assert!(heading(&two).ends_with("; 1 of 2 linings and 2 of 2 bushings exceed their limits"), "{}", heading(&two));
}
