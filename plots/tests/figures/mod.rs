//! Figures of documents made up by formulas, so that what they must show is known beforehand.

mod comparison;
mod cutaway;
mod engagement;
mod fleets;
mod headings;
mod heat;
mod hover;
mod look;
mod oil;
mod panels;
mod rankings;
mod record;
mod room;
mod sweeps;
mod sweeps_and_rankings;
mod temperatures;

use slipsoak_plots::Drawing;

fn keep(name: &str, drawing: &Drawing) {
    let folder = std::env::temp_dir().join("slipsoak-figures");
    std::fs::create_dir_all(&folder).expect("a folder for figures");
    std::fs::write(folder.join(format!("{name}.svg")), &drawing.svg).expect("an SVG file");
    std::fs::write(folder.join(format!("{name}.png")), drawing.png().expect("a PNG")).expect("a PNG file");
    assert!(!drawing.svg.contains("<script") && !drawing.svg.contains("NaN"), "{name}");
}

fn holds(drawing: &Drawing, wanted: &[&str]) {
    for words in wanted {
        assert!(drawing.svg.contains(words), "lacks {words}");
    }
}
