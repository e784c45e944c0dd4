//! A record made up by formulas draws every figure with the labels, panels and files it must have, damaged or whole.

use crate::made_up::{NAMES, WINDOWS, record};
use slipsoak_engine::document::Kind;
use slipsoak_engine::names::{Channel, Entry, Happening};
use slipsoak_engine::record::{Event, Record, Warned, Warning};
use slipsoak_plots::{DrawError, Figure, Size, draw};

#[test]
fn every_figure_has_its_labels_and_panels_and_a_png() {
    let folder = std::env::temp_dir().join("slipsoak-figures");
    std::fs::create_dir_all(&folder).expect("a folder for figures");
    for (figure, panels, wanted) in [
        (
            Figure::Temperatures,
            ("time, minutes", 3),
            vec!["motor block", "temperature, °C", "lining limit 250", "oiled", "locks"],
        ),
        (Figure::Oil, ("time, minutes", 1), vec!["service due at 70 %", "4 drops put on", "grip lost to oil"]),
        (Figure::Life, ("\nhours of this duty", 3), vec!["the lining is worn out after", "remaining life, %"]),
        (Figure::Cutaway, ("drum rim\n", 9), vec!["oil 96 %", "stop + 2 min, 53 min 0 s", "the rest was shorter"]),
        (Figure::Launch, ("speed, rpm\n", 1), vec!["locks 5 s", "heat, kW", "seconds after setting off"]),
        (Figure::Ride, ("Temperatures of the ride", 1), vec!["stop + 30 min", "a tenth of a drop", "bushing"]),
        (Figure::Heat, ("% of it from slip\n", 1), vec!["drum rim", "radiated", "to the motor"]),
        (
            Figure::Engagement,
            ("torque, lbf·ft\n", 1),
            vec!["idle 1700", "motor torque, full throttle", "+600 rpm over idle"],
        ),
        (Figure::Gap, ("±0.20 worst, ±0.15 RSS", 1), vec!["2.41 mm (95 thou)", "required", "gap, mm (thou)"]),
        (Figure::Comparison, ("over idle, rpm\n", 1), vec!["oil fill, %", ", lining", "peak of the lining"]),
    ] {
        let drawing = draw(figure, &record(&NAMES), Size::default()).expect("it draws");
        let name = figure.name();
        for words in wanted.into_iter().chain([NAMES[0], "&lt;script", "…", "role=\"img\"", "<title>", "<desc>"]) {
            // An ellipsis replaces the rest of a shortened name; a panel's heading has room for all of it.
            let whole = !matches!(figure, Figure::Oil | Figure::Comparison) && words == "…";
            // A ride is that of one run, and these launches are alike.
            let other = matches!(figure, Figure::Ride | Figure::Launch) && ["&lt;script", "…"].contains(&words);
            assert!(whole || other || drawing.svg.contains(words), "{name} lacks {words}");
        }
        assert_eq!(drawing.svg.matches(panels.0).count(), panels.1, "{name}: panels");
        assert!(!drawing.svg.contains("<script") && !drawing.svg.contains("NaN"), "{name}");
        std::fs::write(folder.join(format!("{name}.svg")), &drawing.svg).expect("an SVG file");
        std::fs::write(folder.join(format!("{name}.png")), drawing.png().expect("a PNG")).expect("a PNG file");
    }
}

#[test]
fn values_that_are_not_numbers_leave_gaps() {
    let mut holed = record(&NAMES);
    let windows = &mut holed.runs[0].windows;
    for rows in [&mut windows.least, &mut windows.mean, &mut windows.most] {
        rows[50].fill(f64::NAN);
        rows[WINDOWS - 1].fill(f64::INFINITY);
    }
    holed.runs[1].overall.most.fill(f64::NAN);
    holed.runs[2].duration = f64::NAN;
    for figure in Figure::of(Kind::Record) {
        let drawing = draw(figure, &holed, Size::default()).expect("it draws");
        drawing.png().expect("a PNG");
    }
}

#[test]
fn a_ragged_record_and_an_unusable_size_are_refused() {
    let mut ragged = record(&NAMES);
    ragged.runs[0].windows.mean[3].pop();
    assert_eq!(draw(Figure::Life, &ragged, Size::default()), Err(DrawError::Ragged(NAMES[0].to_owned())));
    let small = Size { width: 10, height: 10 };
    assert!(matches!(draw(Figure::Life, &record(&NAMES), small), Err(DrawError::Size { width: 10, .. })));
    assert!(draw(Figure::Temperatures, &record(&["a"; 10]), Size::default()).is_ok());
}

#[test]
fn missing_parts_of_a_record_are_reported_and_not_drawn() {
    let mut bare = record(&NAMES);
    for run in &mut bare.runs {
        (run.close_up, run.launches) = (None, 0);
        run.moments.clear();
        run.events.clear();
        run.settings.clear();
        run.engagement = slipsoak_engine::record::Engagement::default();
        run.ledgers.clutch = slipsoak_engine::record::Ledger::default();
        run.ledgers.oil = slipsoak_engine::record::Ledger::default();
    }
    for (figure, words) in [
        (Figure::Cutaway, "no ride, or the record lacks a size"),
        (Figure::Launch, "the vehicle never set off"),
        (Figure::Heat, "no friction heat"),
        (Figure::Oil, "no oil moved"),
        (Figure::Engagement, "the record holds no torques"),
        (Figure::Gap, "the record lacks a size"),
    ] {
        let svg = draw(figure, &bare, Size::default()).expect("it draws").svg;
        assert!(svg.contains(words), "{} does not say: {words}", figure.name());
    }
    assert!(!draw(Figure::Temperatures, &bare, Size::default()).expect("it draws").svg.contains("hottest launch"));
}

#[test]
fn one_temperature_everywhere_and_sixty_runs_of_it_are_drawn() {
    let mut even = record(&["a"; 60]);
    for run in &mut even.runs {
        let windows = &mut run.windows;
        let close_up = run.close_up.iter_mut().flat_map(|c| &mut c.rows);
        let rows = windows.least.iter_mut().chain(&mut windows.mean).chain(&mut windows.most).chain(close_up);
        rows.chain(run.moments.iter_mut().map(|m| &mut m.values)).for_each(|row| row.fill(293.15));
    }
    for figure in Figure::of(Kind::Record) {
        let drawing = draw(figure, &even, Size::default()).expect("it draws");
        assert!(!drawing.svg.contains("NaN") && !drawing.svg.contains("inf"), "{}", figure.name());
        let left_out = [" of 60 runs", "the same for all 60"].iter().any(|words| drawing.svg.contains(words))
            || figure == Figure::Comparison;
        assert!(left_out || figure == Figure::Engagement, "{}", figure.name());
    }
}

#[test]
fn values_that_are_not_numbers_leave_gaps_in_all_parts_of_a_record() {
    let mut holed = record(&NAMES);
    for run in &mut holed.runs {
        run.moments[0].values.fill(f64::NAN);
        if let Some(close_up) = &mut run.close_up {
            close_up.rows[30].fill(f64::NAN);
            close_up.time[31] = f64::INFINITY;
        }
        run.engagement.capacity[20] = f64::NAN;
        run.engagement.speed[3] = f64::INFINITY;
        run.ledgers.clutch.outward.insert(Entry::Radiated, f64::NAN);
        run.ledgers.oil.outward.insert(Entry::Flung, f64::INFINITY);
        run.settings.iter_mut().filter(|s| s.path.starts_with("drum.")).for_each(|s| s.value = f64::NAN);
    }
    for figure in Figure::of(Kind::Record) {
        let drawing = draw(figure, &holed, Size::default()).expect("it draws");
        drawing.png().expect("a PNG");
    }
}

#[test]
fn figures_of_a_run_stopped_in_its_first_window_show_its_temperatures_and_no_life() {
    let mut record = record(&NAMES[..1]);
    let run = &mut record.runs[0];
    let windows = &mut run.windows;
    (windows.end, windows.running) = (vec![30.0], vec![30.0]);
    for rows in [&mut windows.least, &mut windows.mean, &mut windows.most] {
        rows.truncate(1);
    }
    run.duration = 30.0;
    run.warnings = vec![Warning { kind: Warned::Beyond, value: 973.15, limit: 773.15 }];
    for part in &mut run.parts {
        (part.life, part.running) = (None, None);
        part.curve.truncate(1);
    }
    let svg = |figure| draw(figure, &record, Size::default()).expect("it draws").svg;
    // The label of curves over the only window.
    let texts = svg(Figure::Temperatures);
    let texts = texts.split("<text").filter_map(|text| text.split_once("</text>"));
    assert_eq!(texts.filter(|(text, _)| text.contains("motor block")).count(), 1);
    for figure in [Figure::Life, Figure::Comparison] {
        assert!(svg(figure).contains("beyond the model"), "{}", figure.name());
    }
}

#[test]
fn windows_that_do_not_follow_one_another_are_refused() {
    for (k, end) in [(5, 1e9), (5, 0.0), (WINDOWS - 1, 1e9)] {
        let mut record = record(&NAMES[..1]);
        record.runs[0].windows.end[k] = end;
        let refused = draw(Figure::Temperatures, &record, Size::default()).expect_err("a damaged record");
        assert!(matches!(refused, DrawError::Disordered(_)), "{refused}");
    }
}

#[test]
fn a_ride_has_the_launch_of_another_ride_as_such_and_a_curve_over_long_windows() {
    let mut record = record(&NAMES[..1]);
    let run = &mut record.runs[0];
    // The launch at 630 s is of a ride that ended at 2000 s; windows of 270 s.
    let between = [(2000.0, Happening::SwitchedOff), (2100.0, Happening::MotorStarts)];
    run.events.extend(between.map(|(time, what)| Event { time, what }));
    run.events.sort_by(|a, b| a.time.total_cmp(&b.time));
    let tenth = |rows: &mut Vec<Vec<f64>>| *rows = rows.iter().skip(9).step_by(10).cloned().collect();
    let windows = &mut run.windows;
    windows.end = windows.end.iter().skip(9).step_by(10).copied().collect();
    windows.running = windows.end.clone();
    [&mut windows.least, &mut windows.mean, &mut windows.most].into_iter().for_each(tenth);
    windows.length *= 10.0;
    let svg = draw(Figure::Ride, &record, Size::default()).expect("it draws").svg;
    for words in ["launch, another ride", "hottest lining", "\nstop\n", "stop + 2 min", "stop + 30 min"] {
        assert!(svg.contains(words), "lacks {words}");
    }
    assert!(svg.contains("windows of up to 4.5"), "the curve is drawn and says how long its windows are");
    // The launch is not on the curve of the ride, the other four are.
    let shown = |k: usize| svg.matches(&format!("\n{k}\n")).count();
    assert_eq!((shown(1), shown(2), shown(5)), (1, 2, 2));
}

#[test]
fn launches_of_one_machine_under_several_duties_are_all_bold_and_their_numbers_stand_before_their_names() {
    let mut record = record(&["cart", "cart", "cart"]);
    for (run, duty) in record.runs.iter_mut().zip(["a short way", "a long way with a very long name indeed", "a hill"])
    {
        run.duty = duty.to_owned();
        run.variant = "cart".to_owned();
        run.warnings = vec![Warning { kind: Warned::Beyond, value: 973.15, limit: 773.15 }];
    }
    record.runs[1].close_up.as_mut().expect("a launch").rows.iter_mut().for_each(|row| row[5] *= 2.0);
    let svg = draw(Figure::Launch, &record, Size::default()).expect("it draws").svg;
    assert!(svg.contains("locks 5 s") && !svg.contains("Bold:"), "every launch has its lock");
    assert!(svg.contains(" kJ, a long way") && svg.contains(" kJ, a short way"), "the numbers come first");
}

#[test]
fn launches_that_the_title_names_are_named_in_the_charts_among_many() {
    let names: Vec<String> = (0..9).map(|k| format!("machine {k}")).collect();
    let mut many = record(&names.iter().map(String::as_str).collect::<Vec<_>>());
    for (k, run) in many.runs.iter_mut().enumerate() {
        let rows = &mut run.close_up.as_mut().expect("a launch").rows;
        for row in rows {
            row[Channel::SlipPower as usize] *= (k * 4 % 9 + 1) as f64;
        }
    }
    let svg = draw(Figure::Launch, &many, Size::default()).expect("it draws").svg;
    let title = svg.split("<title>").nth(1).and_then(|rest| rest.split("</title>").next()).expect("a title");
    let titled: Vec<&str> = title.split(['“', '”']).skip(1).step_by(2).collect();
    assert_eq!(titled.len(), 2, "{title}");
    for name in titled {
        assert!(svg.contains(&format!("\n{name}\n")), "{name} has no label");
    }
}

/// All words of a figure.
fn note(figure: Figure, record: &Record) -> String {
    let svg = draw(figure, record, Size::default()).expect("it draws").svg;
    let words: Vec<&str> = svg.split(['<', '>']).step_by(2).flat_map(str::split_whitespace).collect();
    words.join(" ")
}

#[test]
fn a_figure_of_several_machines_under_several_duties_says_that_dashes_are_duties() {
    let mut record = record(&["soft", "hard", "soft", "hard"]);
    let figures = [Figure::LifeCompared, Figure::Launch, Figure::Oil, Figure::Gap];
    for figure in figures {
        assert!(!note(figure, &record).contains("by duty."), "{figure:?} under one duty");
    }
    record.runs[2..].iter_mut().for_each(|run| "town".clone_into(&mut run.duty));
    for figure in figures {
        let note = note(figure, &record);
        assert!(note.contains("Dashes: by duty.") || note.contains("Dashes in the lower charts: by duty."), "{note}");
    }
}

#[test]
fn the_gap_says_whose_shade_it_shows_and_lives_whose_hours_stand_beside_their_names() {
    let shade = |names: &[&str]| note(Figure::Gap, &record(names));
    assert!(shade(&["one"]).contains("Shade: as far as tolerances"), "{}", shade(&["one"]));
    assert!(shade(&["one", "two"]).contains("Shade, one for each line: as far"), "{}", shade(&["one", "two"]));
    let many = shade(&["one", "two", "three", "four"]);
    assert!(many.contains("Shade, of the longest-lived alone: as far"), "{many}");
    let mut one = record(&["one"]);
    let beside = "Beside names: hours the motor runs.";
    assert!(!note(Figure::Life, &one).contains(beside), "without rests both are the same");
    one.runs[0].parts.iter_mut().for_each(|part| part.running = part.running.map(|time| 0.5 * time));
    assert!(note(Figure::Life, &one).contains(beside), "{}", note(Figure::Life, &one));
}

#[test]
fn a_figure_says_of_its_bold_runs_only_what_they_are() {
    let mut record = record(&["first", "second", "third", "fourth"]);
    for (k, run) in record.runs.iter_mut().enumerate() {
        run.warnings.clear();
        for row in &mut run.close_up.as_mut().expect("a launch").rows {
            row[Channel::SlipPower as usize] *= (k + 1) as f64;
        }
    }
    let figures = [Figure::TemperaturesCompared, Figure::LifeCompared, Figure::Launch];
    for figure in figures {
        let note = note(figure, &record);
        assert!(note.contains("Bold: the reference, and the longest-lived that fits."), "{figure:?}: {note}");
    }
    let beyond = Warning { kind: Warned::Beyond, value: 973.15, limit: 773.15 };
    record.runs.iter_mut().for_each(|run| run.warnings = vec![beyond]);
    for figure in figures {
        let note = note(figure, &record);
        assert!(
            note.contains("Bold: the reference.") && !note.contains("longest-lived that fits"),
            "{figure:?}: {note}"
        );
    }
}
