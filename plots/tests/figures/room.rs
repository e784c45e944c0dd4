//! Words have the room that they need, and no compared item is left out for want of it.

use crate::made_up::{record, shop::season, sweep::crossed};
use slipsoak_engine::record::Record;
use slipsoak_plots::{Figure, Look, Size, draw};

const DUTIES: [&str; 3] = ["steady rows", "up the hill", "crawling behind pickers"];

/// Four springs under three duties, all different.
fn studied() -> Record {
    let names: Vec<String> = (0..12).map(|k| format!("{} rpm", 1600 + 200 * (k % 4))).collect();
    let mut all = record(&names.iter().map(String::as_str).collect::<Vec<_>>());
    let moments = all.runs[0].moments.clone();
    for (k, run) in all.runs.iter_mut().enumerate() {
        run.moments.clone_from(&moments);
        DUTIES[k / 4].clone_into(&mut run.duty);
        let life = Some(1e6 * (1.0 + k as f64));
        for part in &mut run.parts {
            (part.life, part.running) = (life, life);
        }
        let moments = run.moments.iter_mut().map(|moment| &mut moment.values);
        for value in run.windows.most.iter_mut().chain(&mut run.windows.mean).chain(moments).flatten() {
            *value *= 1.0 + 0.02 * k as f64;
        }
    }
    all
}

#[test]
fn names_beside_curves_and_bars_are_whole() {
    for figure in [Figure::TemperaturesCompared, Figure::Launch, Figure::Heat, Figure::Oil, Figure::Gap] {
        let svg = draw(figure, &studied(), Size::default()).expect("it draws").svg;
        let cut = svg.split("<text").find(|text| text.contains('…'));
        assert_eq!(cut, None, "{}", figure.name());
        let several = matches!(figure, Figure::Heat | Figure::Oil);
        assert!(!several || svg.contains(", crawling behind pickers"), "{}", figure.name());
    }
}

#[test]
fn no_duty_is_left_out_where_there_is_room_for_a_few_runs() {
    for figure in [Figure::Cutaway, Figure::Oil] {
        let svg = draw(figure, &studied(), Size::default()).expect("it draws").svg;
        let words = svg.split_whitespace().collect::<Vec<_>>().join(" ");
        for duty in DUTIES {
            assert!(words.contains(&format!("rpm, {duty}")), "{} lacks {duty}", figure.name());
        }
    }
}

#[test]
fn a_heading_of_several_lines_shows_one_scale_of_temperature() {
    let size = Size { width: 400, ..Size::default() };
    for fahrenheit in [false, true] {
        let look = Look { size, fahrenheit, ..Look::default() };
        let svg = Figure::Temperatures.draw(&studied(), &look).expect("it draws").svg;
        let seen = svg.split_once("</desc>").expect("a description").1;
        let other = if fahrenheit { "°C" } else { "°F" };
        assert_eq!(seen.split("<text").find(|text| text.contains(other)), None);
    }
}

#[test]
fn margins_over_the_idle_that_lie_close_are_named_in_a_printed_column() {
    let look = Look { size: Size { width: 400, ..Size::default() }, ..Look::default() };
    let svg = Figure::LiningPeaks.draw(&crossed(), &look).expect("it draws").svg;
    for margin in ["at idle", "+50"] {
        assert!(svg.contains(&format!("\n{margin}\n")), "{margin}");
    }
}

#[test]
fn the_spares_of_a_season_end_before_the_edge() {
    let mut all = season();
    for need in all.policies.iter_mut().flat_map(|policy| &mut policy.needs) {
        (need.half, need.nine_tenths, need.most) = (1134, 1403, 1500);
    }
    let svg = Figure::Season.draw(&all, &Look::default()).expect("it draws").svg;
    let spares: Vec<&str> = svg.split("<text").filter(|text| text.contains(": takes 1403 (half need 1134)")).collect();
    assert!(!spares.is_empty(), "no spares");
    for text in spares {
        let left: f64 = text.split("x=\"").nth(1).and_then(|t| t.split('"').next()?.parse().ok()).expect("a place");
        let words = text.split('\n').nth(1).expect("words");
        // A letter is about half as wide as it is high.
        let right = left / 10.0 + 0.5 * 13.0 * words.chars().count() as f64;
        assert!(right < 960.0 - 10.0, "{words} ends at {right}");
    }
}

/// Width of the mark that says this, tenths of a px.
fn wide(svg: &str, says: &str) -> f64 {
    let mark = svg.split("<title>").find(|mark| mark.starts_with(says)).unwrap_or_else(|| panic!("no {says}"));
    let points = mark.split("points=\"").nth(1).and_then(|points| points.split('"').next()).expect("a mark");
    let across: Vec<f64> = points.split(' ').filter_map(|p| p.split(',').next()?.parse().ok()).collect();
    across.iter().copied().fold(f64::MIN, f64::max) - across.iter().copied().fold(f64::MAX, f64::min)
}

#[test]
fn spares_of_a_part_have_one_scale_by_all_rules_and_are_called_what_is_drawn() {
    let mut all = season();
    let squares = Figure::Season.draw(&all, &Look::default()).expect("it draws").svg;
    for (policy, n) in all.policies.iter_mut().zip([425, 85]) {
        let need = &mut policy.needs[2];
        (need.half, need.nine_tenths, need.most) = (n, n, n);
    }
    let bars = Figure::Season.draw(&all, &Look::default()).expect("it draws").svg;
    let [many, few] = [425, 85].map(|n| wide(&bars, &format!("bushing {n}: enough in half")));
    // Less a gap of two px at the end of each.
    assert!(((many + 20.0) / (few + 20.0) - 5.0).abs() < 0.1, "{many} {few}");
    let words = |svg: &str| svg.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words(&squares).contains("Spares: squares, each part") && !words(&squares).contains("a bar where"));
    assert!(words(&bars).contains("squares, or a bar where they are many"));
}

#[test]
fn the_title_over_the_carts_down_stands_above_their_bars() {
    let svg = Figure::Season.draw(&season(), &Look::default()).expect("it draws").svg;
    let number = |tag: &str, name: &str| -> Option<f64> {
        tag.split(&format!(" {name}=\"")).nth(1)?.split('"').next()?.parse().ok()
    };
    // Each chart of carts down ends with its title.
    for chart in svg.split("\ncarts down: mean").take(svg.matches("\ncarts down: mean").count()) {
        let title = chart.rfind("<text").and_then(|at| number(&chart[at..], "y")).expect("a title");
        let bars = chart.split("<title>carts down in week ").skip(1).flat_map(|week| {
            week.split("</g>").next().unwrap_or_default().split("<rect").skip(1).filter_map(|bar| number(bar, "y"))
        });
        let top = bars.fold(f64::INFINITY, f64::min);
        assert!(top > title + 60.0 && top.is_finite(), "{top} over the title at {title}");
    }
}
