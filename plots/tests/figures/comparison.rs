//! The table-figure of all runs side by side.

use crate::figures::keep;
use crate::made_up::{NAMES, record};
use slipsoak_engine::record::{Record, Warned, Warning};
use slipsoak_plots::{Drawing, Figure, Look, Size, draw};

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
            let floor = all.iter().map(|t| t.0).fold(0.0, f64::max);
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

/// A figure of three runs, a, b and c, that last so many hours.
fn lasting(figure: Figure, hours: [f64; 3]) -> Drawing {
    let mut three = record(&["a", "b", "c"]);
    for (run, life) in three.runs.iter_mut().zip(hours.map(|hours| 3600.0 * hours)) {
        run.parts.iter_mut().for_each(|part| (part.life, part.running) = (Some(life), Some(life)));
    }
    draw(figure, &three, Size::default()).expect("it draws")
}

#[test]
fn lives_of_hours_and_of_years_are_compared_on_a_logarithmic_scale() {
    let svg = |hours| lasting(Figure::Comparison, hours).svg;
    let far = svg([5.0, 900.0, 50_000.0]);
    assert!(far.contains("life, h the motor runs (log)") && !far.contains('…'), "{far}");
    let near = svg([1000.0, 900.0, 50_000.0]);
    assert!(near.contains("life, h the motor runs") && !near.contains("(log)"), "{near}");
    // Each of the three keeps its distance: nearly as many decades from 5 to 900 h as from there to 50 000 h.
    let place = |name: &str| {
        let mark = far.split(&format!("<title>{name}: lasts ")).nth(1).expect("a mark").split("</g>").next();
        let dot = mark.and_then(|mark| mark.split("<circle cx=\"").nth(1)).expect("a dot");
        dot.split('"').next().and_then(|x| x.parse::<f64>().ok()).expect("a number")
    };
    let [a, b, c] = ["a", "b", "c"].map(place);
    let expected = (900_f64 / 5.0).ln() / (50_000_f64 / 900.0).ln();
    assert!(((b - a) / (c - b) / expected - 1.0).abs() < 0.05, "{a} {b} {c}");
}

#[test]
fn what_is_left_of_lives_of_hours_and_of_years_falls_along_a_bent_line_on_a_logarithmic_scale() {
    let svg = |hours| {
        let drawing = lasting(Figure::LifeCompared, hours);
        keep(&format!("lives-{:.0}", hours[0]), &drawing);
        drawing.svg
    };
    let (far, near) = (svg([5.0, 900.0, 50_000.0]), svg([1000.0, 900.0, 50_000.0]));
    assert!(far.contains("lining · 1.8\u{a0}%") && far.contains("lining · 0.01\u{a0}%"), "{far}");
    assert!(far.contains("hours the motor runs (log scale)") && !near.contains("log scale"));
    // The longest piece of each curve: straight on a linear axis, bent on this.
    let longest = |svg: &str| {
        let points = svg.split("points=\"").skip(1).map(|rest| rest.split('"').next().unwrap_or("").split(' ').count());
        points.max().unwrap_or(0)
    };
    assert!(longest(&far) > 20 && longest(&near) < 5, "{} {}", longest(&far), longest(&near));
}

#[test]
fn every_heading_of_a_comparison_ends_on_its_sheet_however_long_names_and_parts_are() {
    let mut long = record(&["the spring that was in the drawer of the workshop", "another of these springs"]);
    for run in &mut long.runs {
        run.parts.iter_mut().for_each(|part| (part.life, part.running) = (Some(9e7), Some(9e7)));
    }
    for width in (760..=1000).step_by(40) {
        let svg = draw(Figure::Comparison, &long, Size { width, height: 600 }).expect("it draws").svg;
        let last = svg.split("<text").find(|piece| piece.contains("\nover idle, rpm\n")).expect("a heading");
        let left = last.split_once(" x=\"").and_then(|x| x.1.split('"').next()?.parse::<f64>().ok()).expect("a place");
        // Letters of 13 px are half as wide on average; a unit is a tenth of a pixel.
        assert!(left + 14.0 * 65.0 < 10.0 * f64::from(width), "{width}: {left}");
    }
}

/// Sets the limit of a run's lining, °C.
fn limit(record: &mut Record, run: usize, celsius: f64) {
    let limit = record.runs[run].settings.iter_mut().find(|setting| setting.path == "limits.lining_most");
    limit.expect("a limit").value = 273.15 + celsius;
}

#[test]
fn runs_whose_linings_have_limits_of_their_own_are_drawn_against_these() {
    let mut three = record(&["a", "b", "c"]);
    let svg = |record: &Record, figure: Figure, width: u32| {
        figure.draw(record, &Look { size: Size { width, height: 600 }, ..Look::default() }).expect("it draws").svg
    };
    let dashed = |svg: &str| svg.matches("stroke-dasharray").count();
    let own = "Short dashes: each machine's own limit";
    let one = svg(&three, Figure::Comparison, 960);
    assert!(!one.contains(own) && dashed(&one) == 3, "one line each of lining, oil and engagement");
    limit(&mut three, 1, 240.0);
    let each = svg(&three, Figure::Comparison, 960);
    assert!(each.contains(own) && dashed(&each) == 5, "a tick in each row: {}", dashed(&each));
    // The lines of the charts name whose they are, and each bar has its own.
    let chart = |record: &Record| svg(record, Figure::TemperaturesCompared, 960);
    for words in ["limit 250, a, c", "limit 240, b"] {
        assert!(chart(&three).contains(&format!("\n{words}\n")), "{words}");
    }
    assert!(chart(&three).contains("across each bar its own"));
    limit(&mut three, 1, 250.0);
    assert!(chart(&three).contains("\nlimit 250\n") && !chart(&three).contains("across each bar its own"));
}

#[test]
fn the_axis_of_the_linings_peaks_is_in_the_scale_of_its_heading() {
    let ticks = |fahrenheit: bool| -> Vec<(f64, f64)> {
        let look = Look { fahrenheit, ..Look::default() };
        let all = ticks_of(&Figure::Comparison.draw(&record(&NAMES), &look).expect("it draws").svg);
        let floor = all.iter().map(|t| t.0).fold(0.0, f64::max);
        let mut row: Vec<(f64, f64)> = all.iter().filter(|t| t.0 == floor).map(|t| (t.1, t.2)).collect();
        row.sort_by(|a, b| a.0.total_cmp(&b.0));
        row
    };
    let [(celsius, rest), (fahrenheit, same)] = [ticks(false), ticks(true)].map(|row| {
        let first = row.windows(2).position(|pair| pair[1].1 <= pair[0].1).map_or(row.len(), |end| end + 1);
        (row[..first].to_vec(), row[first..].to_vec())
    });
    assert!(celsius.len() > 1 && rest == same, "{celsius:?} {rest:?}");
    let as_fahrenheit: Vec<(f64, f64)> = celsius.iter().map(|(x, t)| (*x, (1.8 * t + 32.0).round())).collect();
    assert_eq!(fahrenheit, as_fahrenheit);
}
