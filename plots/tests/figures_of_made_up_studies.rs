//! Fleets, sweeps and rankings made up by formulas draw every figure with the labels and marks it must have.

mod made_up;

use made_up::fleet::fleets;
use made_up::shop;
use slipsoak_engine::document::Kind;
use slipsoak_engine::fleet::{Outcome, Report, Spread};
use slipsoak_engine::names::Part;
use slipsoak_engine::record::Warned;
use slipsoak_engine::sensitivity::{Answer, Influence, Influences, Moved, Ranking};
use slipsoak_engine::stack_up::{Fails, Gaps};
use slipsoak_engine::statistics::Index;
use slipsoak_engine::sweep::{Axis, Row, Summary, Sweep};
use slipsoak_plots::{DrawError, Drawing, Figure, Look};

const HOUR: f64 = 3600.0;
const SCRIPT: &str = "<script>alert('&')</script>";

fn keep(name: &str, drawing: &Drawing) {
    let folder = std::env::temp_dir().join("slipsoak-figures");
    std::fs::create_dir_all(&folder).expect("a folder for figures");
    std::fs::write(folder.join(format!("{name}.svg")), &drawing.svg).expect("an SVG file");
    std::fs::write(folder.join(format!("{name}.png")), drawing.png().expect("a PNG")).expect("a PNG file");
    assert!(!drawing.svg.contains("<script") && !drawing.svg.contains("NaN"), "{name}");
}

fn holds(drawing: &Drawing, wanted: &[&str]) {
    for words in wanted {
        assert!(drawing.svg.contains(words), "lacks {words}");
    }
}

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
    assert_eq!(svg.matches("<circle").count(), failed(Part::Lining));
    let due = report.fleets.iter().flat_map(|f| &f.outcomes).filter(|o| o.service_due.is_some()).count();
    assert_eq!(svg.matches("width=\"36\" height=\"90\"").count(), due, "ground of the hollow marks");
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
    let gains = Figure::Gains.draw(&report, &Look::default()).expect("it draws").svg;
    assert!(gains.contains("500 of 500 last longer"));
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

fn axis(name: &str, values: &[f64], unit: &str) -> Axis {
    Axis {
        name: name.to_owned(),
        meaning: "what it is".to_owned(),
        unit: unit.to_owned(),
        values: values.to_vec(),
        labels: values.iter().map(|v| format!("{v} {unit}").trim().to_owned()).collect(),
    }
}

fn sweep(axes: Vec<Axis>) -> Sweep {
    let mut places = vec![vec![]];
    for axis in &axes {
        places = places
            .iter()
            .flat_map(|place: &Vec<usize>| (0..axis.labels.len()).map(move |k| [place.as_slice(), &[k]].concat()))
            .collect();
    }
    let row = |place: Vec<usize>| {
        let sum = place.iter().sum::<usize>() as f64;
        let summary = Summary {
            lining_peak: 373.15 + 30.0 * sum,
            slip_energy: (sum > 0.0).then_some(1e3 * sum),
            life: (sum < 7.0).then(|| 2000.0 * HOUR / 4f64.powf(sum)),
            ended_by: Some(Part::Lining),
            ..Summary::default()
        };
        Row { place, variant: "cart".to_owned(), duty: "day".to_owned(), summary }
    };
    Sweep {
        kind: slipsoak_engine::document::Is::default(),
        head: slipsoak_engine::document::Head {
            program: "slipsoak".to_owned(),
            script: "made up".to_owned(),
            title: format!("Which? {SCRIPT}"),
            ..Default::default()
        },
        rows: places.into_iter().map(row).collect(),
        axes,
        failed: vec![],
    }
}

#[test]
fn a_heat_map_has_a_cell_and_a_number_for_each_combination() {
    let springs = axis("clutch.engagement", &[1600.0, 1700.0, 1800.0, 1900.0], "rpm");
    let idles = axis("motor.idle", &[1500.0, 1600.0, 1700.0], "rpm");
    let duty = Axis { values: vec![], labels: vec!["flat".to_owned(), SCRIPT.to_owned()], ..axis("duty", &[], "") };
    for figure in Figure::of(Kind::Sweep) {
        let flat = figure.draw(&sweep(vec![springs.clone(), idles.clone()]), &Look::default()).expect("it draws");
        keep(&format!("heat-map-{}", figure.name()), &flat);
        holds(&flat, &["engagement speed, rpm", "idle speed", "1900"]);
        let both = figure.draw(&sweep(vec![springs.clone(), duty.clone()]), &Look::default()).expect("it draws");
        holds(&both, &["flat", "duty", "&lt;script"]);
        let axes = vec![springs.clone(), idles.clone(), duty.clone(), axis("surroundings.grade", &[0.0, 0.1], "")];
        let multiples = figure.draw(&sweep(axes), &Look::default()).expect("it draws");
        keep(&format!("heat-maps-{}", figure.name()), &multiples);
        holds(&multiples, &["duty flat", "Held: road grade at 0."]);
        // Twelve cells a panel, and the bar's stripes.
        let cells = |drawing: &Drawing| drawing.svg.matches("<rect").count();
        assert_eq!(cells(&multiples) - cells(&flat), 12, "{}", figure.name());
        figure.draw(&sweep(vec![springs.clone()]), &Look::default()).expect("one axis is enough");
    }
    let peaks = Figure::LiningPeaks.draw(&sweep(vec![springs, idles]), &Look::default()).expect("it draws");
    // 100 °C + 30 K a step: 100 to 250 °C, 212 to 482 °F, both in cells and on the bar.
    holds(&peaks, &["100 °C", "250 °C", "212 °F", "482 °F", "\n130\n", "\n266\n"]);
    assert_eq!(Figure::Lives.draw(&sweep(vec![]), &Look::default()), Err(DrawError::Uncrossed));
}

fn influences(rows: u64) -> Influences {
    let answer = |hours: f64, peak: f64| Answer {
        end: (hours < 600.0).then_some(hours * HOUR),
        ended_by: Some(Part::Lining),
        service_due: (hours < 500.0).then_some(0.5 * hours * HOUR),
        lining_peak: 273.15 + peak,
    };
    let influence = |(k, (draw, low, high)): (usize, (&str, f64, f64))| {
        let share = 0.6 / (k + 1) as f64;
        let index = Index { first: share, total: share + 0.1, first_error: 0.05, total_error: 0.04 };
        Influence {
            draw: draw.to_owned(),
            by_script: k == 1,
            settings: vec![Moved {
                path: draw.to_owned(),
                unit: "1".to_owned(),
                spread: Spread::Factor(2.0),
                low: 0.5,
                nominal: 1.0,
                high: 2.0,
            }],
            low: answer(low, 150.0 + 2.0 * k as f64),
            high: answer(high, 150.0 - 9.0 * k as f64),
            end: (rows > 0).then_some(index),
            service_due: None,
            lining_peak: (rows > 0).then_some(index),
        }
    };
    let draws = [
        ("lining.wear", 520.0, 190.0),
        ("clutch.engagement", 410.0, 280.0),
        ("oiling.leak", 700.0, 310.0),
        (SCRIPT, 350.0, 360.0),
        ("oiling.drop", 350.0, 350.0),
    ];
    let ranking = Ranking {
        variant: "cart".to_owned(),
        duty: "rounds".to_owned(),
        horizon: Some(600.0 * HOUR),
        nominal: answer(350.0, 150.0),
        influences: draws.into_iter().enumerate().map(influence).collect(),
        beyond: 3,
    };
    Influences {
        kind: slipsoak_engine::document::Is::default(),
        head: slipsoak_engine::document::Head {
            program: "slipsoak".to_owned(),
            script: "made up".to_owned(),
            title: "What decides it?".to_owned(),
            ..Default::default()
        },
        rows,
        runs: 100,
        failed: vec![],
        rankings: vec![ranking],
    }
}

#[test]
fn bars_of_sensitivities_are_sorted_and_mark_values_beyond_the_horizon() {
    for figure in Figure::of(Kind::Influence) {
        let drawing = figure.draw(&influences(64), &Look::default()).expect("it draws");
        keep(figure.name(), &drawing);
        holds(&drawing, &["engagement speed", "&lt;script", "everything nominal", "assumed constant"]);
        // The made-up study has no share of the variance for the oil's service: no empty scale is drawn.
        let shares = drawing.svg.contains("share of the variance");
        assert_eq!(shares, figure != Figure::MattersForTheOil, "{}", figure.name());
        let plain = figure.draw(&influences(0), &Look::default()).expect("it draws");
        assert!(!plain.svg.contains("share of the variance"));
    }
    let end = Figure::MattersForTheEnd.draw(&influences(0), &Look::default()).expect("it draws").svg;
    assert!(!end.contains("drop volume") && end.contains("1 other moves it less"), "what moves nothing has no bar");
    let at = |words: &str| end.find(&format!("\n{words}\n")).unwrap_or_else(|| panic!("{words}"));
    // 330 h of change, 290 h with values beyond the horizon counted as the horizon, 130 h.
    assert!(at("lining wear") < at("end leakage") && at("end leakage") < at("engagement speed"));
    assert_eq!(end.matches("\n&gt;\n").count(), 1, "one bar ends beyond the horizon");
}

#[test]
fn bars_of_spreads_defined_in_the_script_are_hollow() {
    let bars = |by_script: bool| {
        let mut study = influences(0);
        study.rankings[0].influences.iter_mut().for_each(|i| i.by_script = by_script);
        let svg = Figure::MattersForTheLining.draw(&study, &Look::default()).expect("it draws").svg;
        svg.matches("<rect").count()
    };
    // One more rectangle in each of four bars and in the key.
    assert_eq!(bars(true), bars(false) + 5);
}

#[test]
fn figures_of_sweeps_and_sensitivities_have_a_dark_variant() {
    let dark = Look { theme: slipsoak_plots::Theme::Dark, ..Look::default() };
    let crossed =
        sweep(vec![axis("clutch.engagement", &[1600.0, 1700.0], "rpm"), axis("motor.idle", &[1500.0, 1600.0], "rpm")]);
    let paper = |svg: &str| svg.split_once("fill=\"#").expect("a ground").1[..6].to_owned();
    for figure in Figure::of(Kind::Sweep) {
        let [light, dark] = [&Look::default(), &dark].map(|look| figure.draw(&crossed, look).expect("it draws").svg);
        assert_ne!(paper(&light), paper(&dark), "{}", figure.name());
    }
    for figure in Figure::of(Kind::Influence) {
        let [light, dark] =
            [&Look::default(), &dark].map(|look| figure.draw(&influences(0), look).expect("it draws").svg);
        assert_ne!(paper(&light), paper(&dark), "{}", figure.name());
    }
}

/// Springs and idles whose lining exceeds 250 °C from 100 rpm below idle on.
fn crossed() -> Sweep {
    let mut sweep = sweep(vec![
        axis("clutch.engagement", &[1600.0, 1700.0, 1800.0, 1900.0], "rpm"),
        axis("motor.idle", &[1600.0, 1700.0, 1800.0], "rpm"),
    ]);
    for axis in &mut sweep.axes {
        axis.values.iter_mut().for_each(|rpm| *rpm *= std::f64::consts::PI / 30.0);
    }
    for row in &mut sweep.rows {
        let over = 100.0 * (row.place[0] as f64 - row.place[1] as f64);
        let at = |axis: usize| Some(sweep.axes[axis].values[row.place[axis]]);
        (row.summary.engagement, row.summary.idle) = (at(0), at(1));
        row.summary.lining_limit = Some(523.15);
        row.summary.lining_peak = if over < 0.0 { 513.15 - 0.5 * over } else { 400.0 };
        // A spring at idle drags without heat.
        row.summary.warnings = if over <= 0.0 { vec![Warned::Drag] } else { vec![] };
    }
    sweep
}

#[test]
fn cells_over_the_limit_are_outlined_and_lines_mark_the_margins_over_the_idle() {
    let svg = Figure::LiningPeaks.draw(&crossed(), &Look::default()).expect("it draws").svg;
    // Of twelve cells three lie 100 rpm or more below the idle, at 290 °C and 340 °C; nine of them drag.
    assert!(svg.contains("Of 12 combinations 3 overheat the lining, 6 drag at idle"), "{:?}", svg.get(..400));
    let outlines = svg.split("<polyline").skip(1).filter(|line| line.contains("stroke-width=\"20\"")).count();
    // And the limit's mark at the bar.
    assert_eq!(outlines, 3 + 1);
    for margin in ["at idle", "+50", "+200 rpm"] {
        assert!(svg.contains(&format!("\n{margin}\n")), "{margin}");
    }
    // Other settings have no such lines.
    let plain = sweep(vec![axis("vehicle.mass", &[100.0, 150.0], "kg"), axis("motor.idle", &[160.0, 170.0], "rad/s")]);
    let svg = Figure::LiningPeaks.draw(&plain, &Look::default()).expect("it draws").svg;
    assert!(!svg.contains("\nat idle\n"), "no margins");
}

#[test]
fn the_answer_of_a_sweep_says_where_the_limit_is_exceeded() {
    let said: Vec<String> =
        slipsoak_plots::words::sweep::answer(&crossed()).iter().map(slipsoak_plots::words::text::Words::text).collect();
    assert!(said[0].starts_with("Fit no spring that engages less than about 170\u{a0}rpm above the idle"), "{said:?}");
    // 100 rpm below the idle: 513.15 K + 50 K = 290 °C; at the idle and above 127 °C.
    assert!(said[2].contains("From the idle itself on no combination exceeds"), "{said:?}");
    let below = "at 100\u{a0}rpm below the idle the lining reaches 290\u{a0}°C (554\u{a0}°F)";
    assert!(said[2].contains(below), "{said:?}");
    // At the middle idle of 1700 rpm only the spring of 1900 rpm keeps that margin.
    assert!(said[3].contains("At an idle of 1700 rpm, engagement speed 1900 rpm lasts longest"), "{said:?}");
    // With a weak spring the first shoe engages 100 rpm lower, within the margin needed, and nothing is recommended.
    let mut weak = crossed();
    for row in &mut weak.rows {
        row.summary.engagement = row.summary.engagement.map(|engages| engages - slipsoak_engine::units::rpm(100.0));
    }
    let said: Vec<String> =
        slipsoak_plots::words::sweep::answer(&weak).iter().map(slipsoak_plots::words::text::Words::text).collect();
    assert!(said.iter().any(|text| text.contains("none can be recommended")), "{said:?}");
}

#[test]
fn a_sweep_says_where_dragging_starts_though_nothing_exceeds_the_limit() {
    let second = |change: &dyn Fn(&mut Row)| {
        let mut sweep = crossed();
        sweep.rows.iter_mut().for_each(|row| {
            row.summary.lining_peak = 400.0;
            change(row);
        });
        slipsoak_plots::words::sweep::answer(&sweep)[1].text()
    };
    let said = second(&|_| {});
    let starts = "Dragging at idle starts where the spring engages at the idle itself (1800\u{a0}rpm over an idle of 1800\u{a0}rpm); no combination that engages 100\u{a0}rpm above the idle or higher drags.";
    assert_eq!(said, starts);
    // One combination drags at 100 rpm above idle: others at that margin do not make it safe.
    let said = second(&|row| {
        if row.place == [1, 0] {
            row.summary.warnings = vec![Warned::Creep];
        }
    });
    assert!(
        said.contains("engages 100\u{a0}rpm above the idle (1700\u{a0}rpm over an idle of 1600\u{a0}rpm)"),
        "{said}"
    );
    assert!(said.contains("no combination that engages 200\u{a0}rpm above the idle or higher drags"), "{said}");
    let said = second(&|row| row.summary.warnings.clear());
    assert!(
        said.contains("No combination drags at idle") && said.contains("200\u{a0}rpm below the idle (1600"),
        "{said}"
    );
    let said = second(&|row| row.summary.warnings = vec![Warned::Drag]);
    assert!(said.contains("nothing computed engages further above it"), "{said}");
}

#[test]
fn readers_of_a_sweep_see_the_names_of_settings_and_lives_to_two_figures() {
    let mut sweep = crossed();
    for row in &mut sweep.rows {
        (row.summary.life, row.summary.running) = (Some(30.0 * 1234.5 * HOUR), Some(1234.5 * HOUR));
        row.summary.ended_by = Some(Part::Lining);
    }
    for figure in Figure::of(Kind::Sweep) {
        let svg = figure.draw(&sweep, &Look::default()).expect("it draws").svg;
        assert!(svg.contains("engagement speed, rpm") && svg.contains("idle speed, rpm"), "{}", figure.name());
        assert!(!svg.contains("clutch.engagement") && !svg.contains("motor.idle"), "{}", figure.name());
    }
    let svg = Figure::Lives.draw(&sweep, &Look::default()).expect("it draws").svg;
    assert!(
        svg.contains("1200\u{a0}h") && !svg.contains("1235") && !svg.contains("37\u{a0}0"),
        "running hours, two figures"
    );
    let html = slipsoak_plots::page::Page::of(&sweep.into()).html();
    assert!(html.contains("1200\u{a0}h of running (37\u{a0}000\u{a0}h by the calendar)"), "both hours in the table");
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
fn sweeps_and_rankings_in_a_printed_column_are_complete() {
    let size = slipsoak_plots::Size { width: 400, ..slipsoak_plots::Size::default() };
    let look = Look { size, ..Look::default() };
    let mut sweep = crossed();
    for (k, row) in sweep.rows.iter_mut().enumerate() {
        row.summary.running = Some(if k % 2 == 0 { 700.0 } else { 4.5e5 * HOUR });
        row.summary.life = row.summary.running;
    }
    for (name, svg) in Figure::of(Kind::Sweep)
        .map(|figure| (figure.name(), figure.draw(&sweep, &look).expect("it draws").svg))
        .chain(Figure::of(Kind::Influence).map(|f| (f.name(), f.draw(&influences(64), &look).expect("it draws").svg)))
    {
        assert!(svg.contains("width=\"400\""), "{name}");
        assert!(!svg.contains('…'), "{name} cuts {:?}", svg.split("<text").find(|text| text.contains('…')));
    }
}
