//! A record made up by formulas draws every figure with the labels, panels and files it must have.

mod made_up;

use made_up::{NAMES, WINDOWS, record};
use slipsoak_engine::document::Kind;
use slipsoak_engine::names::{Channel, Entry, Happening};
use slipsoak_engine::record::{Warned, Warning};
use slipsoak_engine::units::rpm;
use slipsoak_plots::{Anchor, DrawError, Figure, Look, Size, Theme, When, draw};

#[test]
fn every_figure_has_its_labels_and_panels_and_a_png() {
    let folder = std::env::temp_dir().join("slipsoak-figures");
    std::fs::create_dir_all(&folder).expect("a folder for figures");
    for (figure, panels, wanted) in [
        (
            Figure::Temperatures,
            ("time, minutes", 3),
            vec!["motor block", "temperature, °C", "limit, lining 250", "oiled", "locks"],
        ),
        (Figure::Oil, ("time, minutes", 1), vec!["service due at 70 %", "4 drops", "thrown off"]),
        (Figure::Life, ("\nhours of this duty", 3), vec!["the lining is worn out after", "remaining life, %"]),
        (Figure::Cutaway, ("drum rim\n", 9), vec!["oil 96 %", "stop + 2 min, 53 min 0 s", "the rest was shorter"]),
        (Figure::Launch, ("speed, rpm\n", 1), vec!["locks 5 s", "heat, kW", "seconds after setting off"]),
        (Figure::Ride, ("Temperatures of the ride", 1), vec!["stop + 30 min", "a tenth of a drop", "bushing"]),
        (Figure::Heat, (" in all\n", 3), vec!["slip 300 kJ", "radiated", "to motor"]),
        (Figure::Engagement, ("torque, lbf·ft\n", 1), vec!["idle 1700", "motor torque, full throttle", "+600"]),
        (Figure::Gap, ("±0.20 worst, ±0.15 RSS", 3), vec!["2.41 mm (95 thou)", "thou"]),
        (Figure::Comparison, ("over idle, rpm\n", 1), vec!["oil fill, %", ", lining", "peak of the lining"]),
    ] {
        let drawing = draw(figure, &record(&NAMES), Size::default()).expect("it draws");
        let name = figure.name();
        for words in wanted.into_iter().chain([NAMES[0], "&lt;script", "…", "role=\"img\"", "<title>", "<desc>"]) {
            // An ellipsis replaces the rest of a shortened name; a panel's heading has room for all of it.
            let whole = !matches!(figure, Figure::Oil | Figure::Comparison) && words == "…";
            // A ride is that of one run.
            let other = figure == Figure::Ride && ["&lt;script", "…"].contains(&words);
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
fn a_drawing_on_a_dark_background_differs_only_in_its_colours() {
    let dark = Look { theme: Theme::Dark, ..Look::default() };
    let plain = |svg: &str| -> String {
        let mut out = String::new();
        for piece in svg.split('#') {
            let digits = piece.chars().take_while(char::is_ascii_hexdigit).count();
            out.push_str(&piece[if digits >= 6 { 6 } else { 0 }..]);
        }
        out
    };
    for figure in Figure::of(Kind::Record) {
        let light = draw(figure, &record(&NAMES), Size::default()).expect("it draws").svg;
        let dark = figure.draw(&record(&NAMES), &dark).expect("it draws").svg;
        assert_ne!(light, dark, "{}", figure.name());
        assert_eq!(plain(&light), plain(&dark), "{}", figure.name());
        let left_light = dark.contains("\"#FFFFFF\"") || dark.contains("class=\"fill-text\" fill=\"#222222\"");
        assert!(!left_light, "{} keeps light colours on a dark ground", figure.name());
        assert!(dark.contains("var(--slipsoak-paper,#"), "{}", figure.name());
    }
}

#[test]
fn a_figure_uses_the_requested_title_caption_and_width() {
    let size = Size { width: 700, ..Size::default() };
    let look =
        Look { size, title: Some("Der <Titel>".to_owned()), caption: Some("λ 0,1/h".to_owned()), ..Look::default() };
    for figure in Figure::of(Kind::Record) {
        let svg = figure.draw(&record(&NAMES), &look).expect("it draws").svg;
        let name = figure.name();
        assert!(svg.contains("Der &lt;Titel&gt;") && !svg.contains("Three springs"), "{name}");
        assert!(svg.contains("λ 0,1/h") && !svg.contains("lining wear"), "{name}");
        assert!(svg.contains("width=\"700\""), "{name}");
    }
    let own = draw(Figure::Heat, &record(&NAMES), Size::default()).expect("it draws").svg;
    assert!(own.contains("Assumed: end leakage 0.1/h, lining wear 40 mm³/MJ"), "constants are marked as assumed");
}

#[test]
fn the_clutch_is_cut_open_at_the_times_asked_for() {
    let record = record(&NAMES[..1]);
    let at = |times: &[f64]| {
        let at = times.iter().map(|time| When::since_start(*time)).collect();
        Figure::Cutaway.draw(&record, &Look { at, ..Look::default() })
    };
    // The fifth of 200 windows over 5400 s spans 108 to 135 s.
    let svg = at(&[120.0, 5400.0]).expect("it draws").svg;
    assert!(svg.contains("2 min 0 s") && svg.contains("90 min 0 s") && !svg.contains("hottest lining"));
    let celsius = Channel::LiningSurface.of(&record.runs[0].windows.mean[4]) - 273.15;
    let words = format!("\n{celsius:.0}\n");
    assert!(svg.contains(&words), "the lining at {words}");
    let beyond = at(&[5401.0]).expect_err("the run is over").to_string();
    assert!(beyond.contains("90 min 1 s lies beyond the longest run, which lasts 90 min 0 s"), "{beyond}");
}

#[test]
fn a_time_counts_from_an_event_and_a_span_cuts_the_axis() {
    let record = record(&NAMES[..1]);
    let stop = |after: f64| When { anchor: Anchor::Stop, after };
    // The motor is switched off at 3060 s.
    let svg = |figure: Figure, look: &Look| figure.draw(&record, look).expect("it draws").svg;
    let cut = svg(Figure::Cutaway, &Look { at: vec![stop(600.0)], ..Look::default() });
    assert!(cut.contains("stop + 10 min, 61 min 0 s"), "{cut}");
    for figure in [Figure::Temperatures, Figure::Oil] {
        let look = Look { from: Some(stop(-60.0)), to: Some(stop(1800.0)), ..Look::default() };
        let svg = svg(figure, &look);
        assert!(svg.contains("minutes from “stop − 1 min”"), "{}", figure.name());
        assert!(svg.contains("\n30\n"), "31 minutes: {}", figure.name());
    }
    let refused = |look: &Look| Figure::Temperatures.draw(&record, look).expect_err("no such span").to_string();
    let backwards = refused(&Look { from: Some(stop(60.0)), to: Some(stop(0.0)), ..Look::default() });
    assert!(backwards.contains("from “stop + 1 min” to “stop”"), "{backwards}");
    let mut idle = record.clone();
    idle.runs[0].moments.clear();
    let none = Figure::Cutaway.draw(&idle, &Look { at: vec![stop(0.0)], ..Look::default() }).expect_err("no stop");
    assert!(none.to_string().contains("no run has a “stop”"), "{none}");
}

#[test]
fn an_empty_title_or_caption_leaves_nothing_of_either() {
    let record = record(&NAMES);
    let of = |title: Option<&str>, caption: Option<&str>| {
        let look = Look { title: title.map(str::to_owned), caption: caption.map(str::to_owned), ..Look::default() };
        Figure::Cutaway.draw(&record, &look).expect("it draws").svg
    };
    let high = |svg: &str| svg.split("height=\"").nth(1).and_then(|t| t.split('"').next()?.parse::<u32>().ok());
    let (whole, bare) = (of(None, None), of(Some(""), Some("")));
    let texts = |svg: &str| svg.split("<style>").nth(1).expect("a body").to_owned();
    assert!(texts(&whole).contains("The clutch cut open") && texts(&whole).contains("Half-sections to scale"));
    assert!(!texts(&bare).contains("The clutch cut open") && !texts(&bare).contains("Half-sections to scale"));
    assert!(bare.contains("<title>The clutch cut open"), "readers who do not see it hear what it is");
    assert!(high(&bare).expect("a height") + 60 < high(&whole).expect("a height"));
    assert!(texts(&of(Some("Mine"), None)).contains("\nMine\n"));
}

#[test]
fn a_figure_shows_one_scale_of_temperature() {
    let record = record(&NAMES[..1]);
    for fahrenheit in [false, true] {
        let svg = Figure::Temperatures.draw(&record, &Look { fahrenheit, ..Look::default() }).expect("it draws").svg;
        let (shown, other) = if fahrenheit { ("°F", "°C") } else { ("°C", "°F") };
        assert!(svg.contains(shown) && !svg.contains(other), "{shown} alone");
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
    // In the close-up, and as the label of a curve over the only window.
    assert_eq!(svg(Figure::Temperatures).matches("motor block").count(), 2);
    for figure in [Figure::Life, Figure::Comparison] {
        assert!(svg(figure).contains("beyond the model"), "{}", figure.name());
    }
}

#[test]
fn a_figure_says_where_launches_are_too_many_to_list() {
    let mut record = record(&NAMES[..1]);
    let told = |record: &slipsoak_engine::record::Record| {
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
fn windows_that_do_not_follow_one_another_are_refused() {
    for (k, end) in [(5, 1e9), (5, 0.0), (WINDOWS - 1, 1e9)] {
        let mut record = record(&NAMES[..1]);
        record.runs[0].windows.end[k] = end;
        let refused = draw(Figure::Temperatures, &record, Size::default()).expect_err("a damaged record");
        assert!(matches!(refused, DrawError::Disordered(_)), "{refused}");
    }
}

/// Numbers of the ticks of `comparison` at its foot, from left to right.
fn ticks_of(svg: &str) -> Vec<(f64, f64, f64)> {
    let of = |tag: &str, name: &str| {
        tag.split_once(&format!(" {name}=\"")).and_then(|t| t.1.split('"').next()?.parse().ok())
    };
    let text = |piece: &str| -> Option<(f64, f64, f64)> {
        let (tag, words) = piece.split_once('>')?;
        let number = words.split('<').next()?.trim().replace('\u{a0}', "").parse().ok()?;
        Some((of(tag, "y")?, of(tag, "x")?, number))
    };
    svg.split("<text").skip(1).filter_map(text).collect()
}

#[test]
fn every_axis_of_a_comparison_runs_forward_at_every_width() {
    // Lives from minutes to years, as if some springs char a washer.
    let mut springs = record(&NAMES);
    for (run, life) in springs.runs.iter_mut().zip([1.3e3, 1.8e6, 9e7]) {
        run.parts.iter_mut().for_each(|part| (part.life, part.running) = (Some(life), Some(life)));
    }
    for (widths, columns) in [(720..=720, 2), (760..=960, 4)] {
        for width in widths.step_by(40) {
            let svg = draw(Figure::Comparison, &springs, Size { width, height: 600 }).expect("it draws").svg;
            let all = ticks_of(&svg);
            // Twenty thousand hours are on the axis of lives alone.
            let floor = all.iter().find(|t| t.2 == 20_000.0).expect("an axis of lives").0;
            let mut row: Vec<(f64, f64)> = all.iter().filter(|t| t.0 == floor).map(|t| (t.1, t.2)).collect();
            row.sort_by(|a, b| a.0.total_cmp(&b.0));
            // Every axis begins below the end of the one before it.
            assert_eq!(row.chunk_by(|a, b| a.1 < b.1).count(), columns, "{width}: {row:?}");
        }
    }
}

#[test]
fn a_comparison_is_sorted_by_life_and_its_best_row_is_tinted_and_its_reference_outlined() {
    let mut three = record(&["a", "b", "c"]);
    for (run, life) in three.runs.iter_mut().zip([1e6, 3e6, 2e6]) {
        run.parts.iter_mut().for_each(|part| (part.life, part.running) = (Some(life), Some(life)));
        run.warnings.clear();
        run.engagement.settled = None;
        run.overall.least.fill(f64::NAN);
    }
    let height = |svg: &str, name: &str| {
        let end = svg.find(&format!("\n{name}\n")).expect("a name");
        let tag = &svg[svg[..end].rfind("<text").expect("a text")..end];
        tag.split_once(" y=\"").expect("a height").1.split('"').next().expect("ends").parse::<f64>().expect("a number")
    };
    let svg = draw(Figure::Comparison, &three, Size::default()).expect("it draws").svg;
    let [a, b, c] = ["a", "b", "c"].map(|name| height(&svg, name));
    assert!(b < c && c < a, "{a} {b} {c}");
    // One ground in the colour of quiet words, and the outline of the first, which is the reference.
    let tinted = svg.split("<polygon").skip(1).filter(|mark| mark.contains("opacity=\"0.13\"")).count();
    assert_eq!(tinted, 1);
    assert!(svg.contains("Of the springs that fit “b” lasts longest, about 830\u{a0}h, “a” 280\u{a0}h"), "its title");
    // The longest-lived drags: the next one is the best that fits.
    three.runs[1].warnings = vec![Warning { kind: Warned::Drag, value: 0.5, limit: 0.05 }];
    let svg = draw(Figure::Comparison, &three, Size::default()).expect("it draws").svg;
    assert!(svg.contains("“c” lasts longest") && svg.contains("drags at idle"));
}

#[test]
fn a_figure_of_panels_shows_the_first_the_longest_and_the_shortest_lived_and_says_so() {
    let names: Vec<String> = (0..15).map(|k| format!("machine {k}")).collect();
    let mut many = record(&names.iter().map(String::as_str).collect::<Vec<_>>());
    for (k, run) in many.runs.iter_mut().enumerate() {
        let life = if k == 13 {
            9e6
        } else if k == 14 {
            1e3
        } else {
            1e5
        };
        run.parts.iter_mut().for_each(|part| (part.life, part.running) = (Some(life), Some(life)));
    }
    for figure in Figure::of(Kind::Record) {
        let svg = draw(figure, &many, Size::default()).expect("it draws").svg;
        for name in ["machine 0", "machine 13", "machine 14"] {
            // All of these have the same clutch and the same launch, and a ride is that of one.
            let one = matches!(figure, Figure::Engagement | Figure::Launch | Figure::Ride);
            assert!(one || svg.contains(name), "{} lacks {name}", figure.name());
        }
        let panels = ["others by --of", "the same for all 15"].iter().any(|words| svg.contains(words));
        let whole =
            panels || names.iter().all(|name| svg.contains(&format!("{name}\n")) || svg.contains(&format!("{name}<")));
        assert!(whole || svg.contains(" of 15 runs") || figure == Figure::Engagement, "{} hides some", figure.name());
    }
}

#[test]
fn panels_show_the_longest_the_reference_and_the_shortest_or_the_runs_asked_for_and_say_so() {
    let names: Vec<String> = (0..7).map(|k| format!("spring {k}")).collect();
    let mut seven = record(&names.iter().map(String::as_str).collect::<Vec<_>>());
    for (k, run) in seven.runs.iter_mut().enumerate() {
        let life = [4e6, 5e6, 1e6, 6e6, 9e6, 7e6, 8e6][k];
        run.parts.iter_mut().for_each(|part| (part.life, part.running) = (Some(life), Some(life)));
        run.warnings.clear();
        run.engagement.settled = None;
        run.overall.least.fill(f64::NAN);
    }
    let seen = |svg: &str| (0..7).filter(|k| svg.contains(&format!("\nspring {k}\n"))).collect::<Vec<_>>();
    let drawn = |of: &[&str]| {
        let of = of.iter().map(|name| (*name).to_owned()).collect();
        Figure::Life.draw(&seven, &Look { of, ..Look::default() }).map(|drawing| drawing.svg)
    };
    let svg = drawn(&[]).expect("it draws");
    assert_eq!(seen(&svg), [0, 2, 4]);
    let words = svg.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("3 of 7 runs") && words.contains("others by --of"), "{words}");
    assert!(words.contains("the longest-lived that fits, the reference and the shortest-lived"), "{words}");
    let asked = drawn(&["spring 5", "spring 6"]).expect("it draws");
    assert_eq!(seen(&asked), [5, 6]);
    assert!(asked.contains("Shown: those named"));
    assert_eq!(drawn(&["spring 9"]), Err(slipsoak_plots::DrawError::Unnamed("spring 9".to_owned())));
}

#[test]
fn panels_that_would_be_equal_are_one_that_says_for_how_many_it_stands() {
    let mut four = record(&["a", "b", "c", "d"]);
    let first = four.runs[0].clone();
    for run in &mut four.runs[1..] {
        *run = slipsoak_engine::record::Run { variant: run.variant.clone(), ..first.clone() };
    }
    for figure in [Figure::Heat, Figure::Gap, Figure::Launch, Figure::Life, Figure::Cutaway, Figure::Temperatures] {
        let svg = draw(figure, &four, Size::default()).expect("it draws").svg;
        assert_eq!(svg.matches("the same for all 4").count(), 1, "{}", figure.name());
        assert!(!svg.contains("\nc\n") && !svg.contains(" of 4 runs"), "{}", figure.name());
    }
    for (k, run) in four.runs.iter_mut().enumerate() {
        let life = Some(if k == 3 { 1e6 } else { 2e6 });
        run.parts.iter_mut().for_each(|part| (part.life, part.running) = (life, life));
    }
    let svg = draw(Figure::Life, &four, Size::default()).expect("it draws").svg;
    assert!(svg.contains("\nd\n") && !svg.contains("the same for all"));
}

#[test]
fn runs_of_one_machine_share_a_clutch_even_if_its_springs_settle_differently() {
    let mut two = record(&["cart", "cart"]);
    let settled = slipsoak_engine::record::Engagement { settled: Some(150.0), ..two.runs[0].engagement.clone() };
    two.runs[1].engagement = settled;
    let svg = draw(Figure::Engagement, &two, Size::default()).expect("it draws").svg;
    // Its name is above the curve and in the table.
    assert_eq!(svg.matches("\ncart\n").count(), 2);
}

#[test]
fn letters_of_a_figure_printed_on_a4_are_six_points_or_more() {
    // The page's style sheet: A4 with margins of 14 mm beside the text; a figure has the text's width and at most 215
    // mm height.
    let (width, tallest) = (210.0 - 2.0 * 14.0, 215.0);
    let of = |svg: &str, name: &str| -> Vec<f64> {
        svg.split(&format!(" {name}=\"")).skip(1).filter_map(|t| t.split('"').next()?.parse().ok()).collect()
    };
    for runs in [1, 3, 7, 15, 30] {
        let record = record(&vec!["a"; runs]);
        for figure in Figure::of(Kind::Record) {
            let svg = draw(figure, &record, Size::default()).expect("it draws").svg;
            let (wide, high) = (of(&svg, "width")[0], of(&svg, "height")[0]);
            let scale = f64::min(width / wide, tallest / high);
            // Everything is drawn ten times larger than it is shown; 1 pt is 25.4/72 mm.
            let least = of(&svg, "font-size").into_iter().fold(f64::INFINITY, f64::min);
            let points = least / 10.0 * scale * 72.0 / 25.4;
            assert!(points >= 6.0, "{} of {runs}: {points:.1} pt", figure.name());
        }
    }
}

#[test]
fn the_ramp_runs_from_dark_to_bright_on_a_dark_ground_and_from_bright_to_dark_on_paper() {
    let fills = |theme| {
        let look = Look { theme, ..Look::default() };
        let svg = Figure::Cutaway.draw(&record(&NAMES), &look).expect("it draws").svg;
        let of = |step: &str| {
            let at = svg.split_once(&format!("class=\"fill-amount-{step}\"")).expect("the bar has both ends").1;
            let hex = at.split_once("fill=\"#").expect("a colour").1;
            u32::from_str_radix(&hex[..2], 16).expect("red")
        };
        (of("0"), of("48"))
    };
    let ((cold, hot), (cold_dark, hot_dark)) = (fills(Theme::Light), fills(Theme::Dark));
    assert!(cold > hot && cold_dark < hot_dark, "{cold} {hot} {cold_dark} {hot_dark}");
}

#[test]
fn no_text_of_a_page_is_in_celsius_if_fahrenheit_is_chosen() {
    let mut html = slipsoak_plots::page::Page::of(&record(&NAMES).into()).html();
    // Text that the page's style sheet hides then, and text that is never shown.
    for (open, close) in [
        ("<tspan class=\"c\">", "</tspan>"),
        ("<span class=\"c\">", "</span>"),
        ("<title", "</title>"),
        ("<desc", "</desc>"),
        ("<fieldset>", "</fieldset>"),
        ("<pre", "</pre>"),
        // What a link holds is not shown.
        ("href=\"data:", "\" "),
    ] {
        while let Some(at) = html.find(open) {
            let end = at + html[at..].find(close).expect("closed") + close.len();
            html.replace_range(at..end, "");
        }
    }
    let left: Vec<&str> =
        html.match_indices("°C").map(|(at, _)| &html[html.floor_char_boundary(at - 80)..at]).collect();
    assert!(left.is_empty(), "{left:#?}");
    assert!(html.contains("class=\"f\""), "no temperature at all");
}

#[test]
fn the_background_of_a_figure_with_a_long_heading_begins_at_its_top() {
    let mut record = record(&NAMES[..1]);
    record.head.title =
        "Which of the springs in the drawer suits a motor that idles fast, late in a hot summer? ".repeat(2);
    let svg = Figure::Temperatures.draw(&record, &Look::default()).expect("it draws").svg;
    let top = svg.split("viewBox=\"0 ").nth(1).and_then(|rest| rest.split(' ').next()).expect("a view");
    assert!(top.starts_with('-'), "the heading takes more than one line: {top}");
    assert!(svg.contains(&format!("<rect x=\"0\" y=\"{top}\"")), "the ground begins elsewhere than at {top}");
}

/// Places across of the ends of horizontal lines, px.
fn horizontal(svg: &str) -> Vec<f64> {
    let lines = svg.split("<polyline").skip(1).filter_map(|line| line.split("points=\"").nth(1)?.split('"').next());
    let ends = lines.map(|points| -> Vec<(f64, f64)> {
        let place = |pair: &str| Some((pair.split(',').next()?.parse().ok()?, pair.split(',').nth(1)?.parse().ok()?));
        points.split_whitespace().filter_map(place).collect()
    });
    ends.filter(|p| p.len() == 2 && p[0].1 == p[1].1).map(|p| f64::min(p[0].0, p[1].0) / 10.0).collect()
}

#[test]
fn the_engagement_of_a_clutch_with_a_broken_spring_is_that_of_its_first_shoe() {
    let mut two = record(&["whole", "broken"]);
    (two.runs[0].engagement.first, two.runs[0].engagement.lock) = (Some(rpm(1500.0)), Some(rpm(1500.0)));
    (two.runs[1].engagement.first, two.runs[1].engagement.lock) = (Some(0.0), Some(rpm(1200.0)));
    let svg = draw(Figure::Engagement, &two, Size::default()).expect("it draws").svg;
    for (shown, times) in [("1500", 2), ("1900", 0), ("always", 1), ("−200", 1), ("−1700", 1), ("+200", 0)] {
        // 1500 is a tick of the axis too.
        assert_eq!(svg.matches(&format!("\n{shown}\n")).count(), times, "{shown}");
    }
    assert!(horizontal(&svg).iter().all(|left| *left >= 18.0), "a line begins left of the margin");
}

#[test]
fn motors_that_differ_are_named_by_what_differs() {
    let mut two = record(&["lake", "pass"]);
    let motor = two.runs[1].engagement.motor.clone();
    two.runs[1].engagement.motor = motor.iter().map(|torque| 0.74 * torque).collect();
    for setting in two.runs[1].settings.iter_mut().filter(|s| s.path == "surroundings.pressure") {
        setting.value = 79_495.0;
    }
    let svg = draw(Figure::Engagement, &two, Size::default()).expect("it draws").svg;
    let names: Vec<&str> = svg.lines().filter(|line| line.starts_with("motor torque, full throttle")).collect();
    assert!(names.len() == 2 && names[0] != names[1], "{names:?}");
    assert!(names.iter().all(|name| name.contains("air pressure")), "{names:?}");
    assert_eq!(svg.matches("\nroad load\n").count(), 1, "one road load for both");
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
fn every_destination_of_the_heat_is_named_in_full_beside_other_runs() {
    let mut six = record(&["a"; 6]);
    for run in &mut six.runs {
        run.ledgers.clutch.held.insert(Entry::InShoes, 146_100.0);
        run.ledgers.clutch.outward.insert(Entry::WebAndSprocketToTheAir, 135_600.0);
    }
    for width in [960, 480] {
        let svg = draw(Figure::Heat, &six, Size { width, ..Size::default() }).expect("it draws").svg;
        assert!(svg.contains("in inner parts") && svg.contains("air: web"), "{width}");
        let cut: Vec<&str> = svg.lines().filter(|line| line.contains('…')).collect();
        assert!(cut.is_empty(), "{width}: {cut:?}");
    }
}

#[test]
fn a_long_name_of_a_single_clutch_takes_no_more_room_than_a_short_one() {
    let height = |name: &str| {
        let svg = draw(Figure::Engagement, &record(&[name]), Size::default()).expect("it draws").svg;
        svg.split(" height=\"").nth(1).and_then(|rest| rest.split('"').next()).map(str::to_owned)
    };
    assert_eq!(height("cart"), height("weekend cart, geared for 50 km/h"));
}

#[test]
fn a_caption_calls_set_only_what_the_machine_sets() {
    let caption = |change: fn(&mut slipsoak_engine::record::Run)| {
        let mut record = record(&NAMES);
        for run in &mut record.runs {
            run.settings = slipsoak_engine::record::Setting::all(&slipsoak_engine::parts::Machine::default());
            change(run);
        }
        let svg = draw(Figure::Oil, &record, Size { width: 3000, height: 600 }).expect("it draws").svg;
        svg.replace(['\u{a0}', '\n'], " ")
    };
    let plain = caption(|_| ());
    assert!(plain.contains("Published: oiled bushing wear") && !plain.contains("Set:"), "{plain}");
    let set = caption(|run| run.settings.iter_mut().filter(|s| s.path == "lining.wear").for_each(|s| s.value *= 2.0));
    assert!(set.contains("Set: lining wear 80"), "{set}");
    let sintered = caption(|run| {
        let mut machine = slipsoak_engine::parts::Machine::default();
        machine.line_with(slipsoak_engine::parts::LiningKind::Sintered);
        (run.lining_kind, run.settings) = (machine.lining_kind, slipsoak_engine::record::Setting::all(&machine));
    });
    assert!(!sintered.contains("Set:"), "{sintered}");
}
