//! The work-precision figure: processor time over error, one curve for each contestant, told apart without colour.

use crate::contest::{Class, Score};
use std::fmt::Write;

const SIZE: (f64, f64) = (900.0, 620.0);
const LEFT: f64 = 80.0;
const TOP: f64 = 50.0;
const WIDE: f64 = 560.0;
const HIGH: f64 = 480.0;
/// Strokes and their dashes, from dark to light.
const STROKES: [(&str, &str); 9] = [
    ("#000", ""),
    ("#444", "2 3"),
    ("#444", "8 3"),
    ("#777", "2 3"),
    ("#777", "8 3"),
    ("#999", "2 3"),
    ("#999", "8 3"),
    ("#222", "10 3 2 3"),
    ("#666", "10 3 2 3"),
];

/// Scores that no other beats in both error and time, from the largest error down.
fn front(scores: &[Score]) -> Vec<(f64, f64)> {
    let mut points: Vec<(f64, f64)> =
        scores.iter().map(|s| (s.share(Class::Runs), s.time)).filter(|p| p.0.is_finite() && p.0 > 0.0).collect();
    points.sort_by(|a, b| a.1.total_cmp(&b.1));
    let mut best = f64::INFINITY;
    points.retain(|p| {
        let better = p.0 < best;
        best = best.min(p.0);
        better
    });
    points
}

fn mark(shape: usize, x: f64, y: f64, colour: &str) -> String {
    let path = match shape % 5 {
        0 => return format!("<circle cx='{x:.1}' cy='{y:.1}' r='4' fill='{colour}'/>"),
        1 => "m-4 -4h8v8h-8z",
        2 => "m0 -5l5 9h-10z",
        3 => "m0 -5l5 5l-5 5l-5 -5z",
        _ => "m-5 -4h10l-5 9z",
    };
    let fill = if shape < 5 { "#fff" } else { colour };
    format!("<path d='M{x:.1} {y:.1}{path}' fill='{fill}' stroke='{colour}' stroke-width='1.5'/>")
}

/// The figure as SVG.
pub fn of(curves: &[(&str, &[Score])]) -> String {
    let fronts: Vec<Vec<(f64, f64)>> = curves.iter().map(|c| front(c.1)).collect();
    let all = || fronts.iter().flatten();
    let span = |value: fn(&(f64, f64)) -> f64| {
        let (least, most) = all().map(value).fold((f64::INFINITY, 0.0_f64), |(a, b), v| (a.min(v), b.max(v)));
        (least.log10().floor(), most.min(300.0 * least.max(1.0)).log10().ceil())
    };
    let (errors, times) = (span(|p| p.0), span(|p| p.1));
    let x = |error: f64| LEFT + WIDE * ((error.log10() - errors.0) / (errors.1 - errors.0)).clamp(0.0, 1.0);
    let y = |time: f64| TOP + HIGH * (1.0 - ((time.log10() - times.0) / (times.1 - times.0)).clamp(0.0, 1.0));
    let mut svg = format!(
        "<svg xmlns='http://www.w3.org/2000/svg' width='{}' height='{}' viewBox='0 0 {} {}' font-family='sans-serif' font-size='13'>\
         <rect width='100%' height='100%' fill='#fff'/>\
         <text x='{LEFT}' y='28' font-size='16'>Processor time over error, all chosen cases</text>\n",
        SIZE.0, SIZE.1, SIZE.0, SIZE.1
    );
    let (right, bottom) = (LEFT + WIDE, TOP + HIGH);
    for (least, most, upright) in [(errors.0, errors.1, true), (times.0, times.1, false)] {
        for power in least as i32..=most as i32 {
            let value = 10_f64.powi(power);
            let (line, label) = if upright {
                (
                    format!("M{:.1} {TOP}V{bottom}", x(value)),
                    format!("<text x='{:.1}' y='{}' text-anchor='middle'>{value}</text>", x(value), bottom + 20.0),
                )
            } else {
                (
                    format!("M{LEFT} {:.1}H{right}", y(value)),
                    format!("<text x='{}' y='{:.1}' text-anchor='end'>{value}</text>", LEFT - 8.0, y(value) + 4.0),
                )
            };
            let _ = writeln!(svg, "<path d='{line}' stroke='#ddd' fill='none'/>{label}");
        }
    }
    let _ = writeln!(
        svg,
        "<path d='M{:.1} {TOP}V{bottom}' stroke='#000' stroke-dasharray='1 3'/>\
         <text x='{:.1}' y='{}'>class of single runs</text>\
         <text x='{}' y='{}' text-anchor='middle'>worst error, as a share of the class</text>\
         <text transform='translate(22 {}) rotate(-90)' text-anchor='middle'>processor time, ms</text>",
        x(1.0),
        x(1.0) + 6.0,
        TOP + 14.0,
        LEFT + 0.5 * WIDE,
        bottom + 44.0,
        TOP + 0.5 * HIGH
    );
    for (k, ((name, _), points)) in curves.iter().zip(&fronts).enumerate() {
        let (colour, dash) = STROKES[k % STROKES.len()];
        let width = if k == 0 { 2.5 } else { 1.5 };
        let path: Vec<String> = points.iter().map(|p| format!("{:.1},{:.1}", x(p.0), y(p.1))).collect();
        let _ = writeln!(
            svg,
            "<polyline points='{}' fill='none' stroke='{colour}' stroke-width='{width}' stroke-dasharray='{dash}'/>",
            path.join(" ")
        );
        for p in points {
            svg += &mark(k, x(p.0), y(p.1), colour);
        }
        let row = TOP + 20.0 + 26.0 * k as f64;
        let _ = writeln!(
            svg,
            "<path d='M{} {row}h36' stroke='{colour}' stroke-width='{width}' stroke-dasharray='{dash}'/>{}\
             <text x='{}' y='{}'>{name}</text>",
            right + 20.0,
            mark(k, right + 38.0, row, colour),
            right + 64.0,
            row + 4.0
        );
    }
    svg + "</svg>\n"
}
