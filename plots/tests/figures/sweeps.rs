//! Heat maps of sweeps.

use super::{holds, keep};
use crate::made_up::sweep::{SCRIPT, axis, crossed, sweep};
use slipsoak_engine::document::Kind;
use slipsoak_engine::names::Part;
use slipsoak_engine::record::Warned;
use slipsoak_engine::sweep::{Axis, Row};
use slipsoak_plots::{DrawError, Drawing, Figure, Look, Size};

const HOUR: f64 = 3600.0;

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

#[test]
fn degrees_fahrenheit_of_the_colour_bar_stand_clear_of_the_cells() {
    let mut hot =
        sweep(vec![axis("vehicle.mass", &[50.0, 800.0], "kg"), axis("surroundings.ambient", &[0.0, 9.0], "°C")]);
    hot.rows[3].summary.lining_peak = 973.15;
    let svg = Figure::LiningPeaks.draw(&hot, &Look::default()).expect("it draws").svg;
    let number = |piece: &str, name: &str| -> Option<f64> {
        piece.split_once(&format!(" {name}=\""))?.1.split('"').next()?.parse().ok()
    };
    let label = svg.split("<text").find(|piece| piece.contains("\n1112 °F\n")).expect("a label");
    // Eleven characters of the bar's 12.5 px are no narrower than 0.5 of their size each.
    let left = number(label, "x").expect("a place") - 7.0 * 0.5 * 125.0;
    let cells = svg.split("<rect").skip(1).filter(|piece| number(piece, "width").is_some_and(|wide| wide > 1000.0));
    let right = cells.filter_map(|cell| Some(number(cell, "x")? + number(cell, "width")?)).filter(|at| *at < 9000.0);
    let right = right.fold(0.0, f64::max);
    assert!(right > 5000.0 && left > right, "{left} {right}");
}

#[test]
fn no_line_of_equal_margin_strikes_out_a_number() {
    let svg = Figure::LiningPeaks.draw(&crossed(), &Look::default()).expect("it draws").svg;
    // After the lines every number is written on a patch of its cell's colour.
    let lines = svg.rfind("<polyline").or_else(|| svg.rfind("<path")).expect("lines");
    let cells: Vec<&str> = svg.split("<polygon").skip(1).filter(|piece| piece.contains("fill-amount")).collect();
    assert_eq!(cells.len(), 24, "a patch for °C and one for °F in each of twelve cells");
    let first = svg.find(cells[0]).expect("a patch");
    let margins = svg[..first].matches("stroke-width=\"14\"").count();
    assert!(margins >= 3 && lines > 0, "{margins} lines before the patches");
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
fn lines_of_equal_margin_that_leave_narrow_cells_at_the_right_keep_their_names() {
    let mut wide = sweep(vec![
        axis("clutch.engagement", &[1300.0, 1400.0, 1500.0, 1600.0, 1700.0, 1800.0, 1900.0], "rpm"),
        axis("motor.idle", &[1600.0, 1700.0, 1800.0], "rpm"),
    ]);
    for axis in &mut wide.axes {
        axis.values.iter_mut().for_each(|rpm| *rpm *= std::f64::consts::PI / 30.0);
    }
    let narrow = Look { size: Size { width: 400, ..Size::default() }, ..Look::default() };
    for look in [Look::default(), narrow] {
        let svg = Figure::LiningPeaks.draw(&wide, &look).expect("it draws").svg;
        for margin in ["at idle", "+50", "+200 rpm"] {
            assert!(svg.contains(&format!("\n{margin}\n")), "{margin}");
        }
    }
}

#[test]
fn the_answer_of_a_sweep_says_where_the_limit_is_exceeded() {
    let said: Vec<String> =
        slipsoak_plots::words::sweep::answer(&crossed()).iter().map(slipsoak_plots::words::text::Words::text).collect();
    assert!(said[1].starts_with("Fit no spring that engages less than about 150 to 170\u{a0}rpm above the idle (the faster it engages, the more) once"), "{said:?}");
    // 100 rpm below the idle: 513.15 K + 50 K = 290 °C; at the idle and above 127 °C.
    assert!(said[3].contains("From the idle itself on no combination exceeds"), "{said:?}");
    let below = "at 100\u{a0}rpm below the idle the lining reaches 290\u{a0}°C (554\u{a0}°F)";
    assert!(said[3].contains(below), "{said:?}");
    // At the middle idle of 1700 rpm only the spring of 1900 rpm keeps that margin.
    assert!(
        said[0].starts_with("Choose engagement speed 1900 rpm: at an idle of 1700 rpm it lasts longest"),
        "{said:?}"
    );
    // Hot and relaxed the same spring engages 50 rpm lower, within that margin, and nothing is recommended.
    let mut sagging = crossed();
    for row in &mut sagging.rows {
        row.summary.settled = row.summary.engagement.map(|engages| engages - slipsoak_engine::units::rpm(50.0));
    }
    let said = slipsoak_plots::words::sweep::answer(&sagging);
    assert!(said.iter().any(|text| text.text().contains("none can be recommended")), "{said:?}");
    // A clutch of more shoes needs more than it keeps.
    let mut many = crossed();
    for row in &mut many.rows {
        row.summary.needed = Some(slipsoak_engine::units::rpm(210.0));
    }
    let said = slipsoak_plots::words::sweep::answer(&many);
    assert!(said.iter().any(|text| text.text().contains("none can be recommended")), "{said:?}");
    // With a weak spring the first shoe engages 100 rpm lower, within the margin needed, and nothing is recommended.
    let mut weak = crossed();
    for row in &mut weak.rows {
        row.summary.engagement = row.summary.engagement.map(|engages| engages - slipsoak_engine::units::rpm(100.0));
    }
    let said: Vec<String> =
        slipsoak_plots::words::sweep::answer(&weak).iter().map(slipsoak_plots::words::text::Words::text).collect();
    assert!(said.iter().any(|text| text.contains("none can be recommended")), "{said:?}");
}

/// What is fitted is chosen for what the machine meets; nothing is chosen that fails there.
#[test]
fn a_sweep_chooses_what_fits_under_all_conditions_else_for_each_and_never_the_conditions() {
    let turns = [1700.0, 1800.0, 1900.0].map(slipsoak_engine::units::rpm);
    let without = |hot: &dyn Fn(&[usize]) -> bool, axes: &[&str], left_out: &[usize]| {
        let mut swept = sweep(
            axes.iter()
                .map(|name| match *name {
                    "clutch.engagement" => axis(name, &turns, "rad/s"),
                    _ => axis(name, &[120.0, 180.0, 260.0], "kg"),
                })
                .collect(),
        );
        for row in &mut swept.rows {
            row.summary.ended_by = Some(slipsoak_engine::names::Part::Lining);
            row.summary.life = Some(3.6e6 / (1.0 + row.place.iter().sum::<usize>() as f64));
            if hot(&row.place) {
                row.summary.warnings = vec![slipsoak_engine::record::Warned::Lining];
            }
        }
        swept.rows.retain(|row| row.place != left_out);
        slipsoak_plots::words::sweep::answer(&swept)[0].text()
    };
    let answer = |hot: &dyn Fn(&[usize]) -> bool, axes: &[&str]| without(hot, axes, &[]);
    let both = ["clutch.engagement", "vehicle.mass"];
    let said = answer(&|place| place[1] == 2 && place[0] == 0, &both);
    assert!(said.starts_with("Choose engagement speed 188.49555921538757 rad/s: it fits at every vehicle mass and, of those that do, lasts longest at its worst, vehicle mass 260 kg: about 250"), "{said}");
    let said = answer(&|place| place[1] + place[0] >= 2, &both);
    let [first, light, middle, heavy] = [
        "No engagement speed fits at every vehicle mass: ",
        "at vehicle mass 120 and 180 kg choose engagement speed 178",
        "(500 to 1000\u{a0}h of running)",
        "at vehicle mass 260 kg none fits (lining too hot)",
    ];
    assert!([first, light, middle, heavy].iter().all(|part| said.contains(part)), "{said}");
    assert!(answer(&|_| true, &both).starts_with("No combination fits (lining too hot): none can be recommended"));
    // The best spring was not computed with the heaviest mass: it is not said to fit there.
    assert!(answer(&|_| false, &both).starts_with("Choose engagement speed 178"));
    let said = without(&|_| false, &both, &[0, 2]);
    assert!(said.starts_with("Choose engagement speed 188"), "{said}");
    // Nothing is to be chosen here: a mass is not.
    let said = answer(&|place| place[0] == 2, &["vehicle.mass"]);
    let whole = "The machine does not fit at every vehicle mass: at vehicle mass 120 and 180 kg it does (500 to 1000\u{a0}h of running); at vehicle mass 260 kg it does not (lining too hot).";
    assert_eq!(said, whole);
}

#[test]
fn a_sweep_says_where_dragging_starts_though_nothing_exceeds_the_limit() {
    let said_of = |change: &dyn Fn(&mut Row)| {
        let mut sweep = crossed();
        sweep.rows.iter_mut().for_each(|row| {
            row.summary.lining_peak = 400.0;
            change(row);
        });
        slipsoak_plots::words::sweep::answer(&sweep)[2].text()
    };
    let said = said_of(&|_| {});
    let starts = "The highest spring that drags at idle engages at the idle itself (1800\u{a0}rpm over an idle of 1800\u{a0}rpm); no combination that engages 100\u{a0}rpm above the idle or higher drags. What engages between was not computed.";
    assert_eq!(said, starts);
    // One combination drags at 100 rpm above idle: others at that margin do not make it safe.
    let said = said_of(&|row| {
        if row.place == [1, 0] {
            row.summary.warnings = vec![Warned::Creep];
        }
    });
    assert!(
        said.contains("engages 100\u{a0}rpm above the idle (1700\u{a0}rpm over an idle of 1600\u{a0}rpm)"),
        "{said}"
    );
    assert!(said.contains("no combination that engages 200\u{a0}rpm above the idle or higher drags"), "{said}");
    let said = said_of(&|row| row.summary.warnings.clear());
    assert!(
        said.contains("No combination drags at idle") && said.contains("200\u{a0}rpm below the idle (1600"),
        "{said}"
    );
    let said = said_of(&|row| row.summary.warnings = vec![Warned::Drag]);
    assert!(said.contains("nothing computed engages further above it"), "{said}");
}

#[test]
fn lives_of_what_does_not_fit_are_outlined_with_the_reason_and_left_out_of_the_heading() {
    let mut swept = crossed();
    for row in &mut swept.rows {
        (row.summary.life, row.summary.ended_by) = (Some(360.0 * HOUR), Some(Part::Lining));
    }
    let svg = Figure::Lives.draw(&swept, &Look::default()).expect("it draws").svg;
    let unfit = swept.rows.iter().filter(|row| row.summary.fault().is_some()).count();
    assert_eq!(unfit, 9, "three of twelve keep the margin");
    assert!(svg.contains("3 of 12 combinations fit, with lives of 360"), "{svg}");
    assert!(svg.contains("Outlined: does not fit; a cell with room gives the reason."));
    // At the idle or below it in six places, 100 rpm above it in three.
    assert_eq!(["drags at idle", "too near idle"].map(|why| svg.matches(&format!("\n{why}\n")).count()), [6, 3]);
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
    assert!(html.contains("1200\u{a0}h of running (4.2\u{a0}years by the calendar)"), "both hours in the table");
}
