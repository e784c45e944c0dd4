//! What a reader asks of a figure: its background, size, title, caption, span of time and scale of temperature.

use crate::made_up::{NAMES, record};
use slipsoak_engine::document::Kind;
use slipsoak_plots::{Anchor, Figure, Look, Size, Theme, When, draw};

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
    assert!(
        texts(&whole).contains("After the stop the bushing warms") && texts(&whole).contains("Half-sections to scale")
    );
    assert!(
        !texts(&bare).contains("After the stop the bushing warms") && !texts(&bare).contains("Half-sections to scale")
    );
    assert!(bare.contains("<title>After the stop the bushing warms"), "readers who do not see it hear what it is");
    assert!(high(&bare).expect("a height") + 60 < high(&whole).expect("a height"));
    assert!(texts(&of(Some("Mine"), None)).contains("\nMine\n"));
}

#[test]
fn a_figure_shows_one_scale_of_temperature() {
    let record = record(&NAMES[..1]);
    for fahrenheit in [false, true] {
        let svg = Figure::Temperatures.draw(&record, &Look { fahrenheit, ..Look::default() }).expect("it draws").svg;
        let (shown, other) = if fahrenheit { ("°F", "°C") } else { ("°C", "°F") };
        // The title for readers who do not see it has both.
        let seen = svg.split_once("</title>").expect("a title").1;
        assert!(seen.contains(shown) && !seen.contains(other), "{shown} alone");
    }
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
    let title = "Which of the springs in the drawer suits a motor that idles fast, late in a hot summer? ".repeat(2);
    let look = Look { title: Some(title), ..Look::default() };
    let svg = Figure::Temperatures.draw(&record(&NAMES[..1]), &look).expect("it draws").svg;
    let top = svg.split("viewBox=\"0 ").nth(1).and_then(|rest| rest.split(' ').next()).expect("a view");
    assert!(top.starts_with('-'), "the heading takes more than one line: {top}");
    assert!(svg.contains(&format!("<rect x=\"0\" y=\"{top}\"")), "the ground begins elsewhere than at {top}");
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
