//! The table-figure of all runs side by side.

use crate::made_up::{NAMES, record};
use slipsoak_engine::record::{Warned, Warning};
use slipsoak_plots::{Figure, Size, draw};

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
