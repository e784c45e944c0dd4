//! A record made up by formulas draws every figure with the labels, panels and files it must have.

use slipsoak_engine::parts::Confidence;
use slipsoak_engine::record::{Engagement, Extremes, Ledger, Ledgers, PartUse, Record, Run, Setting, Windows, Work};
use slipsoak_engine::simulate::channels;
use slipsoak_plots::{DrawError, Figure, Size, draw};
use std::collections::BTreeMap;

const WINDOWS: usize = 200;
const DURATION: f64 = 5400.0;
const NAMES: [&str; 3] =
    ["spring of 1900 rpm", "<script>alert('&')</script>", "a name far too long to stand beside any row of any figure"];

/// A channel at a share of the run's length, SI.
fn value(channel: &str, run: usize, share: f64) -> f64 {
    let rise = (1.0 - (-4.0 * share).exp()) * (1.0 + 0.3 * run as f64);
    let beat = (share * 60.0).sin();
    match channel {
        "lining surface" => 293.15 + 110.0 * rise + 12.0 * beat,
        "band" => 293.15 + 80.0 * rise + 5.0 * beat,
        "bushing" => 293.15 + 55.0 * rise,
        "washer" => 293.15 + 58.0 * rise,
        "block" => 293.15 + 60.0 * (1.0 - (-2.0 * share).exp()),
        "slip power" => 120.0 + 60.0 * run as f64 + 50.0 * beat,
        "oil fill" => 1.0 - (0.08 + 0.1 * run as f64) * share,
        _ => 1.0 + share,
    }
}

/// Entries of one side of a ledger.
fn side(entries: &[(&str, f64)]) -> BTreeMap<String, f64> {
    entries.iter().map(|entry| (entry.0.to_owned(), entry.1)).collect()
}

fn run(k: usize, name: &str) -> Run {
    let names: Vec<String> = channels().into_iter().map(|c| c.name).collect();
    let end: Vec<f64> = (1..=WINDOWS).map(|w| DURATION * w as f64 / WINDOWS as f64).collect();
    let row = |time: f64, aside: f64| -> Vec<f64> {
        names.iter().map(|n| value(n, k, time / DURATION) + if n == "lining surface" { aside } else { 0.0 }).collect()
    };
    let rows = |aside: f64| end.iter().map(|time| row(*time, aside)).collect::<Vec<_>>();
    let setting = |path: &str, value: f64| Setting {
        path: path.to_owned(),
        value,
        unit: "K".to_owned(),
        confidence: Confidence::Assumed,
    };
    let part = |part: &str, used: f64| PartUse {
        part: part.to_owned(),
        used,
        life: (used > 0.0).then_some(DURATION / used.max(1e-12)),
        curve: end.iter().map(|time| used * time / DURATION).collect(),
    };
    let oil = Ledger {
        unit: "kg".to_owned(),
        inward: side(&[("put in", 1.1e-3)]),
        held: side(&[("in pores", 1.0e-3 - 5e-5 * k as f64), ("in film", 3e-5), ("in washer", 2e-5)]),
        outward: side(&[("flung", 3e-5 + 5e-5 * k as f64), ("evaporated", 1e-6), ("leaked", 1.9e-5)]),
        ..Ledger::default()
    };
    Run {
        variant: name.to_owned(),
        duty: "round".to_owned(),
        settings: vec![
            setting("limits.lining_most", 523.15),
            setting("limits.lining_steady", 423.15),
            setting("limits.bushing_warning", 363.15),
            setting("limits.oil_service", 0.7),
        ],
        duration: DURATION,
        sliding_time: 900.0,
        running_time: DURATION,
        distance: 20e3,
        launches: 60,
        overall: Extremes { least: row(0.0, -8.0), mean: row(0.5 * DURATION, 0.0), most: row(DURATION, 60.0) },
        windows: Windows {
            length: DURATION / WINDOWS as f64,
            end: end.clone(),
            least: rows(-8.0),
            mean: rows(0.0),
            most: rows(60.0),
        },
        close_up: None,
        moments: vec![],
        engagement: Engagement::default(),
        segments: vec![],
        segments_left_out: 0,
        events: vec![],
        events_left_out: 0,
        ledgers: Ledgers {
            mechanics: Ledger::default(),
            chain: Ledger::default(),
            heat: Ledger::default(),
            oil,
            wear: Ledger::default(),
            clutch: Ledger::default(),
        },
        parts: vec![
            part("lining", 0.004 * 50f64.powi(k as i32)),
            part("bushing", 0.001),
            part("washer", 0.003),
            part("spring", 0.0),
            part("oil", 0.05),
        ],
        horizon: None,
        supplies: BTreeMap::new(),
        warnings: vec![],
        work: Work::default(),
    }
}

fn record(names: &[&str]) -> Record {
    Record {
        program: "slipsoak".to_owned(),
        script: "made up".to_owned(),
        script_hash: String::new(),
        title: "Three springs & one motor".to_owned(),
        parameters: BTreeMap::new(),
        seeds: vec![],
        channels: channels(),
        runs: names.iter().enumerate().map(|(k, name)| run(k % 3, name)).collect(),
    }
}

#[test]
fn every_figure_holds_its_labels_and_panels_and_becomes_a_png() {
    let folder = std::env::temp_dir().join("slipsoak-figures");
    std::fs::create_dir_all(&folder).expect("a folder for figures");
    for (figure, panels, wanted) in [
        (Figure::Temperatures, ("time, minutes", 3), vec!["drum band", "temperature, °F", "lining, peak 250 °C"]),
        (Figure::Oil, ("time, minutes", 1), vec!["service due at 70 %", "Oil put in, mg", "flung"]),
        (Figure::Life, ("\nhours of this duty", 3), vec!["the lining ends it after", "remaining life, %"]),
        (Figure::Comparison, ("mean slip heat, W\n", 1), vec!["oil fill at the end, %", ", lining"]),
    ] {
        let drawing = draw(figure, &record(&NAMES), Size::default()).expect("it draws");
        let name = figure.name();
        for words in wanted.into_iter().chain([NAMES[0], "&lt;script", "…", "role=\"img\"", "<title>", "<desc>"]) {
            // The ellipsis stands where a name was cut; a panel's heading has room for all of it.
            let whole = matches!(figure, Figure::Temperatures | Figure::Life) && words == "…";
            assert!(whole || drawing.svg.contains(words), "{name} lacks {words}");
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
    for figure in Figure::all() {
        let drawing = draw(*figure, &holed, Size::default()).expect("it draws");
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
