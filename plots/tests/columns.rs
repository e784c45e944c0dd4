//! Figures for a printed column: letters of 6 pt at 80 mm, nothing cut, nothing beyond the sheet, no overlapping texts.

use crate::made_up::fleet::fleets;
use crate::made_up::learned::{retraced, told};
use crate::made_up::{record, shop};
use slipsoak_engine::document::Saved;
use slipsoak_plots::{Look, Size, drawn};

/// A text as drawn: words, left, right, vertical middle and size, px as shown at the layout width.
struct Text {
    words: String,
    left: f64,
    right: f64,
    middle: f64,
    size: f64,
    upright: bool,
}

/// Texts of a drawing. A letter counts as half as wide as it is high, which is narrower than most, so that reported
/// overlaps are real.
fn texts(svg: &str) -> Vec<Text> {
    let of = |tag: &str, name: &str| {
        tag.split_once(&format!(" {name}=\"")).map(|t| t.1.split('"').next().unwrap_or_default().to_owned())
    };
    let one = |piece: &str| {
        let (tag, words) = piece.split_once('>')?;
        let number = |name: &str| of(tag, name)?.parse::<f64>().ok().map(|v| v / 10.0);
        let words = words.split("</text").next()?.trim();
        let words = [("&lt;", "<"), ("&gt;", ">"), ("&apos;", "'"), ("&amp;", "&")]
            .iter()
            .fold(words.to_owned(), |words, (escaped, letter)| words.replace(escaped, letter));
        let (x, middle, size) = (number("x")?, number("y")?, number("font-size")?);
        let wide = 0.5 * size * words.chars().count() as f64;
        let left = match of(tag, "text-anchor").as_deref() {
            Some("end") => x - wide,
            Some("middle") => x - 0.5 * wide,
            _ => x,
        };
        let upright = of(tag, "transform").is_some_and(|t| t.contains("rotate"));
        Some(Text { words, left, right: left + wide, middle, size, upright })
    };
    svg.split("<text").skip(1).filter_map(one).collect()
}

/// Width and height as shown, and the layout width of the sheet, px.
fn sizes(svg: &str) -> (f64, f64) {
    let of =
        |name: &str| svg.split_once(&format!(" {name}=\"")).expect("an attribute").1.split('"').next().expect("ends");
    let shown: f64 = of("width").parse().expect("a width");
    let laid: f64 = of("viewBox").split(' ').nth(2).expect("a box").parse().expect("a width");
    (shown, laid / 10.0)
}

/// Every figure of a record, a calibration, a recorded ride, the shop's questions and fleets at a width.
fn drawings(width: u32) -> Vec<(&'static str, String)> {
    let look = Look { size: Size { width, ..Size::default() }, ..Look::default() };
    let lives = [("1750 rpm", 90.0, 0.7), ("1900 rpm, oiled every fourth weekend", 300.0, 2.0), ("none", 1e7, 3.0)];
    let results: [Saved; 9] = [
        record(&["1600 rpm", "1750 rpm", "after the ride, warm"]).into(),
        told().into(),
        retraced().into(),
        shop::choice().into(),
        shop::gaps().into(),
        shop::oiling().into(),
        shop::measure().into(),
        shop::season().into(),
        fleets(&lives).into(),
    ];
    let figures = results.iter().flat_map(|saved| drawn(saved, &look));
    figures.map(|(name, drawing)| (name, drawing.expect("it draws").svg)).collect()
}

#[test]
fn letters_in_a_column_of_80_mm_are_six_points_or_more_at_every_width_from_400_to_720() {
    for width in [400, 560, 720] {
        for (name, svg) in drawings(width) {
            let (shown, laid) = sizes(&svg);
            assert!((shown - f64::from(width)).abs() < 1e-9, "{name}: {shown} px");
            let least = texts(&svg).iter().map(|t| t.size).fold(f64::INFINITY, f64::min);
            // The sheet's whole width is 80 mm in print; 1 pt is 25.4/72 mm.
            let points = least / laid * 80.0 * 72.0 / 25.4;
            assert!(points >= 6.0, "{name} at {width}: {points:.1} pt");
        }
    }
}

#[test]
fn no_text_of_a_figure_for_a_column_is_cut_or_overlaps_another() {
    for (name, svg) in drawings(400) {
        let (_, laid) = sizes(&svg);
        let all = texts(&svg);
        for text in &all {
            assert!(!text.words.contains('…'), "{name} cuts {}", text.words);
            let torn = text.words.ends_with(['=', '≈']) || text.words.starts_with(['=', '≈']);
            assert!(!torn, "{name} breaks {} at the sign", text.words);
            let inside = text.upright || (text.left >= 0.0 && text.right <= laid);
            assert!(inside, "{name}: {} from {:.0} to {:.0} of {laid}", text.words, text.left, text.right);
        }
        for (k, a) in all.iter().enumerate().filter(|(_, a)| !a.upright) {
            for b in all[..k].iter().filter(|b| !b.upright) {
                let beside = a.left >= b.right || b.left >= a.right;
                let apart = (a.middle - b.middle).abs() >= 0.75 * a.size.min(b.size);
                assert!(beside || apart, "{name}: {} lies on {}", a.words, b.words);
            }
        }
    }
}
