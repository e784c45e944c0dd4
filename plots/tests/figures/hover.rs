//! What marks say to a reader who points at them: every line, dot, bar and cell in a colour of its own says something.

use crate::made_up::{documents, record};
use slipsoak_engine::document::Saved;
use slipsoak_engine::names::Channel;
use slipsoak_plots::{Figure, Look, Size, drawn};

/// Marks in these colours are frames, guides, leaders, texts and what lies behind.
const QUIET: [&str; 4] = ["-paper\"", "-text\"", "-quiet\"", "-faint\""];
/// Width of a leader from a label to its curve, and of thinner lines, tenths of a px.
const LEADER: u32 = 9;

/// Every figure of these documents, wide and narrow, with its name.
fn figures(look: &Look) -> Vec<(String, String)> {
    let of = |saved: &Saved, width: u32| {
        let look = Look { size: Size { width, ..Size::default() }, ..look.clone() };
        drawn(saved, &look)
            .into_iter()
            .map(|(name, drawing)| (format!("{name}, {width} px"), drawing.expect("it draws").svg))
            .collect::<Vec<_>>()
    };
    documents().iter().flat_map(|saved| [of(saved, 960), of(saved, 420)]).flatten().collect()
}

/// Marks of a drawing in colours of their own, each with what it says; of nested texts the innermost holds.
fn marks(svg: &str) -> Vec<(&str, Option<&str>)> {
    let (_, drawing) = svg.split_once("</style>").expect("rules");
    let mut open: Vec<Option<&str>> = vec![];
    let mut all: Vec<(&str, Option<&str>)> = vec![];
    for piece in drawing.split('<').skip(1) {
        let (tag, text) = piece.split_once('>').expect("a tag ends");
        let coloured = tag.contains("class=") && !QUIET.iter().any(|quiet| tag.contains(quiet));
        let width = tag.split("stroke-width=\"").nth(1).and_then(|rest| rest.split('"').next()?.parse::<u32>().ok());
        match tag.split([' ', '/']).next().unwrap_or_default() {
            "g" => open.push(None),
            "title" => {
                if let Some(last) = open.last_mut() {
                    last.get_or_insert(text);
                }
            }
            "" if tag == "/g" => {
                open.pop();
            }
            "polyline" | "polygon" | "rect" | "circle" if coloured && width.is_none_or(|wide| wide > LEADER) => {
                all.push((tag, open.iter().rev().find_map(|said| *said)));
            }
            _ => {}
        }
    }
    all
}

/// Stripes of a bar of colours: they stand for no value of the figure.
fn stripe(tag: &str, said: Option<&str>) -> bool {
    tag.starts_with("rect") && tag.contains("fill-amount") && said.is_none()
}

#[test]
fn every_mark_in_a_colour_of_its_own_says_what_it_is() {
    let mut count = 0;
    for (name, svg) in figures(&Look::default()) {
        let marks = marks(&svg);
        let (stripes, rest): (Vec<_>, Vec<_>) = marks.into_iter().partition(|(tag, said)| stripe(tag, *said));
        assert!(stripes.is_empty() || stripes.len() == 64, "{name}: cells that say nothing, or a bar of other stripes");
        count += rest.len();
        let dumb: Vec<&str> = rest.into_iter().filter(|(_, said)| said.is_none()).map(|(tag, _)| tag).collect();
        assert!(dumb.is_empty(), "{name}: {dumb:#?}");
    }
    assert!(count > 1000, "{count} marks");
}

/// What marks and places of a drawing say.
fn said(svg: &str) -> Vec<&str> {
    let (_, drawing) = svg.split_once("</style>").expect("rules");
    drawing.split("<title>").skip(1).filter_map(|rest| rest.split('<').next()).collect()
}

#[test]
fn a_point_of_a_curve_says_its_run_its_time_and_its_value_in_the_scale_of_the_figure() {
    let record = record(&["1750 rpm", "1900 rpm"]);
    let of = |fahrenheit| {
        let look = Look { fahrenheit, ..Look::default() };
        Figure::TemperaturesCompared.draw(&record, &look).expect("it draws").svg
    };
    for (fahrenheit, own, other) in [(false, "°C", "°F"), (true, "°F", "°C")] {
        let svg = of(fahrenheit);
        let said = said(&svg);
        let point = |text: &&&str| {
            let parts: Vec<&str> = text.split(", ").collect();
            matches!(parts[..], ["1750 rpm", time, value] if time.ends_with(" s") && time.contains(" min ") && value.ends_with(own))
        };
        // Two curves of a panel have six places each, and there are two panels.
        assert_eq!(said.iter().filter(point).count(), 12, "{said:#?}");
        assert!(said.iter().all(|text| !text.contains(other)), "{said:#?}");
    }
    // The curve is the hottest of a cycle of the duty: at the fourth of six places it lies between the hottest windows nearby.
    let svg = of(false);
    let value = said(&svg).into_iter().filter(|text| text.starts_with("1750 rpm, ")).nth(3).expect("a place");
    let parts: Vec<&str> = value.split(", ").collect();
    let clock: Vec<f64> = parts[1].split(' ').filter_map(|word| word.parse().ok()).collect();
    let celsius: f64 = parts[2].trim_end_matches(" °C").parse().expect("a number");
    let run = &record.runs[0];
    let at = 60.0 * clock[0] + clock[1];
    let cycle = run.running_time / run.launches as f64;
    let hottest = |from: f64, until: f64| {
        let near = run.windows.running.iter().zip(&run.windows.most).filter(|(time, _)| (from..until).contains(*time));
        near.map(|(_, row)| Channel::LiningSurface.of(row) - 273.15).fold(f64::NEG_INFINITY, f64::max)
    };
    let [before, after] = [hottest(at - 1.5 * cycle, at), hottest(at, at + 1.5 * cycle)];
    let (low, high) = (before.min(after), before.max(after));
    assert!((low - 2.0..high + 2.0).contains(&celsius) && high - low < 20.0, "{value}: {low} to {high}");
}
