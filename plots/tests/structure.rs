//! The structure of every figure of a made-up record, calibration, recorded ride, plan of measurements and season,
//! compared with its last reviewed state: words, marks and their extents.
//!
//! After an intended change: `SLIPSOAK_SNAPSHOTS=write cargo test -p slipsoak-plots --test pages structure`, and look at the
//! changes.

use crate::made_up::learned::{retraced, told};
use crate::made_up::{NAMES, record, shop};
use slipsoak_engine::document::Kind;
use slipsoak_engine::record::Record;
use slipsoak_plots::{Figure, Look, Size, draw};
use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::{Path, PathBuf};

fn path(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/snapshots").join(name)
}

fn writes() -> bool {
    std::env::var("SLIPSOAK_SNAPSHOTS").is_ok_and(|word| word == "write")
}

/// Value of an attribute of a tag.
fn attribute<'a>(tag: &'a str, name: &str) -> Option<&'a str> {
    let start = tag.find(&format!(" {name}=\""))? + name.len() + 3;
    tag[start..].split('"').next()
}

/// Every word of a drawing with its position, for each kind of mark and tone their number and bounding rectangle,
/// rounded to 5 px, and what marks say to a reader who points at them.
fn structure(svg: &str) -> String {
    let five = |tenths: f64| (tenths / 50.0).round() as i64 * 5;
    let (mut words, mut hints) = (String::new(), String::new());
    let mut marks: BTreeMap<String, (usize, [f64; 4])> = BTreeMap::new();
    let (_, drawn) = svg.split_once("</style>").expect("rules");
    for piece in drawn.split('<').skip(1).filter(|piece| !piece.starts_with('/')) {
        let (tag, text) = piece.split_once('>').unwrap_or((piece, ""));
        let kind = tag.split([' ', '/']).next().unwrap_or_default();
        if kind == "g" {
            continue;
        }
        if kind == "title" {
            let _ = writeln!(hints, "      “{text}”");
            continue;
        }
        let number = |name: &str| attribute(tag, name).and_then(|v| v.parse::<f64>().ok());
        if kind == "text" {
            let at = (number("x").unwrap_or(0.0), number("y").unwrap_or(0.0));
            let _ = writeln!(words, "{:>5} {:>5}  {}", five(at.0), five(at.1), text.trim());
            continue;
        }
        let numbers =
            attribute(tag, "points").unwrap_or_default().split([',', ' ']).filter_map(|v| v.parse::<f64>().ok());
        let flat: Vec<f64> = numbers.collect();
        let mut places: Vec<(f64, f64)> = flat.chunks_exact(2).map(|p| (p[0], p[1])).collect();
        places.extend(number("cx").zip(number("cy")));
        if let (Some(at), Some(size)) = (number("x").zip(number("y")), number("width").zip(number("height"))) {
            places.extend([at, (at.0 + size.0, at.1 + size.1)]);
        }
        let tone = attribute(tag, "class").unwrap_or("exact");
        let unset = (0, [f64::INFINITY, f64::INFINITY, f64::NEG_INFINITY, f64::NEG_INFINITY]);
        let mark = marks.entry(format!("{kind} {tone}")).or_insert(unset);
        mark.0 += 1;
        for (x, y) in places {
            mark.1 = [mark.1[0].min(x), mark.1[1].min(y), mark.1[2].max(x), mark.1[3].max(y)];
        }
    }
    for (kind, (count, reach)) in marks {
        let [left, top, right, bottom] = reach.map(five);
        let _ = writeln!(words, "{count:>5} {kind}: {left}…{right}, {top}…{bottom}");
    }
    words + &hints
}

/// The first run of the record with two days' rest in twenty windows of its middle.
fn rested() -> Record {
    let mut record = record(&NAMES[..1]);
    let run = &mut record.runs[0];
    let (length, rest) = (run.windows.length, 2.0 * 86_400.0);
    for (k, end) in run.windows.end.iter_mut().enumerate().skip(100) {
        *end += (rest - 20.0 * length) * ((k - 99) as f64 / 20.0).min(1.0);
    }
    run.duration += rest - 20.0 * length;
    record
}

/// Every figure by its name.
fn figures() -> Vec<(&'static str, String)> {
    let of_a_record =
        |figure: Figure| (figure.name(), draw(figure, &record(&NAMES), Size::default()).expect("it draws").svg);
    let learned = |figure: Figure| (figure.name(), figure.draw(&told(), &Look::default()).expect("it draws").svg);
    let ridden = |figure: Figure| (figure.name(), figure.draw(&retraced(), &Look::default()).expect("it draws").svg);
    let measured =
        |figure: Figure| (figure.name(), figure.draw(&shop::measure(), &Look::default()).expect("it draws").svg);
    let planned =
        |figure: Figure| (figure.name(), figure.draw(&shop::season(), &Look::default()).expect("it draws").svg);
    let mut all: Vec<(&str, String)> = Figure::of(Kind::Record).map(of_a_record).collect();
    let rested = draw(Figure::Temperatures, &rested(), Size::default()).expect("it draws").svg;
    all.push(("temperatures-rests", rested));
    all.extend(Figure::of(Kind::Told).map(learned));
    all.extend(Figure::of(Kind::Retraced).map(ridden));
    all.extend(Figure::of(Kind::Measure).map(measured));
    all.extend(Figure::of(Kind::Season).map(planned));
    all
}

#[test]
fn every_figure_has_the_structure_that_it_had() {
    for (name, svg) in figures() {
        let (name, now) = (format!("{name}.txt"), structure(&svg));
        assert!(!svg.contains("<script") && !svg.contains("NaN"), "{name}");
        if writes() {
            std::fs::write(path(&name), &now).expect("a snapshot");
        }
        let was = std::fs::read_to_string(path(&name)).expect("a snapshot");
        for (line, (is, was)) in now.lines().zip(was.lines()).enumerate() {
            assert_eq!(is, was, "{name}, line {}", line + 1);
        }
        assert_eq!(now.lines().count(), was.lines().count(), "{name} is longer or shorter than it was");
    }
}

/// Size of a PNG, and its pixels, red, green, blue.
fn decoded(file: &[u8]) -> ((u32, u32), Vec<u8>) {
    let mut reader = png::Decoder::new(std::io::Cursor::new(file)).read_info().expect("a PNG");
    let mut pixels = vec![0; reader.output_buffer_size().expect("a size")];
    let info = reader.next_frame(&mut pixels).expect("a PNG");
    assert_eq!(info.color_type, png::ColorType::Rgb);
    ((info.width, info.height), pixels)
}

/// Mean difference of two pictures, 0..255, and the share of their bytes that differ much.
fn difference(a: &[u8], b: &[u8]) -> (f64, f64) {
    let gaps: Vec<u8> = a.iter().zip(b).map(|(a, b)| a.abs_diff(*b)).collect();
    let count = gaps.len() as f64;
    let mean = gaps.iter().map(|gap| f64::from(*gap)).sum::<f64>() / count;
    (mean, gaps.iter().filter(|gap| **gap > 64).count() as f64 / count)
}

#[test]
fn the_cutaway_looks_as_it_looked() {
    let size = Size { width: 640, ..Size::default() };
    let png = draw(Figure::Cutaway, &record(&NAMES[..1]), size).expect("it draws").png().expect("a PNG");
    if writes() {
        std::fs::write(path("cutaway.png"), &png).expect("a picture");
    }
    let (size, is) = decoded(&png);
    let (was_size, was) = decoded(&std::fs::read(path("cutaway.png")).expect("a picture"));
    assert_eq!(size, was_size);
    let (mean, share) = difference(&is, &was);
    // Another version of the rasteriser may shade edges differently; a part in another colour or position changes more
    // than that.
    assert!(mean < 0.5 && share < 0.003, "mean difference {mean}, {share} of the bytes differ much");
}
