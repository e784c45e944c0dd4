//! Figures of measured data beside the whole model are as the code draws them, and the description of the model shows them.
//!
//! After an intended change: `SLIPSOAK_FIGURES=write cargo test -p slipsoak-plots --test pages measured_figures`, and look at them.

use crate::measured::{MM, bare_metal, bus_drum, refill, truck_drum};
use slipsoak_engine::parts::Machine;
use slipsoak_engine::units::RPM;
use slipsoak_plots::{Data, DataAndModel, Look, Size, data_and_model};

/// Speeds of the truck, mph, with what was measured at them, W/K.
const TRUCK: [(f64, f64); 3] = [(20.0, 19.01), (40.0, 24.59), (55.0, 28.78)];
const KM_H_PER_MPH: f64 = 1.609_344;

fn point(at: f64, value: f64) -> (f64, f64, f64) {
    (at, value, value)
}

fn data(label: &str, points: Vec<(f64, f64, f64)>) -> Data {
    Data { label: label.to_owned(), points }
}

fn bus() -> DataAndModel {
    let rises = bus_drum::rises(12.7 * MM);
    let of = |k: usize| rises.iter().map(|(t, rise)| (*t, rise[k])).collect();
    DataAndModel {
        title: "Rise of a bus drum in one launch".into(),
        across: "time, s".into(),
        up: "rise over the air, K".into(),
        x: (0.0, 12.0),
        y: (0.0, 30.0),
        model: vec![("lining's face".into(), of(1)), ("innermost cell of the wall".into(), of(0))],
        data: vec![
            data("measured, 20 K (SAE 861985)", vec![point(bus_drum::TIME, 20.0)]),
            data("its authors' half-space, 23.3 K", vec![point(bus_drum::TIME, 23.3)]),
        ],
        caption: "Drawn at the launch's end; when and where in the drum it was measured is not stated. Greatest rise: the cell 3 % below what was measured, the lining's face 27 % above. Energy inferred, wall of 12.7 mm chosen.".into(),
    }
}

fn truck() -> DataAndModel {
    let curve = |convection: f64, web: f64| {
        let of = |(mph, _): (f64, f64)| {
            let mut machine = truck_drum::truck(web);
            machine.heat.convection = convection;
            (mph * KM_H_PER_MPH, truck_drum::conductance(machine, mph))
        };
        TRUCK.map(of).to_vec()
    };
    let default = Machine::default().heat.convection;
    DataAndModel {
        title: "Cooling of a truck drum over speed".into(),
        across: "road speed, km/h".into(),
        up: "heat to the air, W/K".into(),
        x: (20.0, 100.0),
        y: (0.0, 35.0),
        model: vec![
            ("default factor, 1.4".into(), curve(default, truck_drum::THIN)),
            ("factor 1".into(), curve(1.0, truck_drum::THIN)),
            ("default, web of 12 mm".into(), curve(default, truck_drum::THICK)),
        ],
        data: vec![data(
            "measured on ten drums (FHWA-RD-79-116, from memory)",
            TRUCK.map(|(mph, value)| point(mph * KM_H_PER_MPH, value)).to_vec(),
        )],
        caption: "Default factor: 19 to 6 % below; factor 1: 38 to 30 % below. Sizes chosen; the factor was set with these data in view.".into(),
    }
}

fn refilled() -> DataAndModel {
    let of = |air: f64| refill::fills(air).into_iter().map(|(hours, fill)| (hours, 100.0 * fill)).collect();
    DataAndModel {
        title: "Oil of a bushing that idles for 1000 h".into(),
        across: "running hours".into(),
        up: "oil fill, %".into(),
        x: (0.0, 1200.0),
        y: (0.0, 100.0),
        model: vec![("cool mount, 49 °C".into(), of(refill::COOL)), ("warm mount, 79 °C".into(), of(refill::WARM))],
        data: vec![data(
            "refill after 1000 h; half is the end (handbook, makers): 50 to 80 % are left",
            vec![(1000.0, 50.0, 80.0)],
        )],
        caption: "Advice, no measurement. Cool: 79 % left; warm: half gone in 820 h, 18 % sooner; the line ends where the bushing, short of oil, seizes. End leakage assumed, 0.1 per hour.".into(),
    }
}

fn bare() -> DataAndModel {
    let machine = bare_metal::clutch();
    let rubbing: Vec<(f64, f64)> = bare_metal::torques().into_iter().filter(|(_, torque)| *torque > 0.0).collect();
    let last = rubbing.last().map_or(0.0, |p| p.0);
    let by = [3800.0, 4000.0, 4200.0, 4400.0, 4600.0, 4800.0];
    let by =
        by.into_iter().filter(|rpm| *rpm <= last).map(|rpm| point(rpm, bare_metal::by_friction(&machine, rpm * RPM)));
    DataAndModel {
        title: "Torque of a small clutch of bare metal".into(),
        across: "motor speed, rpm".into(),
        up: "torque, N·m".into(),
        x: (3600.0, 5000.0),
        y: (0.0, 3.5),
        model: vec![("whole model".into(), rubbing)],
        data: vec![data("by the measured friction 0.165 (Gendek & Maciak 2007)", by.collect())],
        caption: "3 to 4 % below: the model's friction falls with slip speed. Sizes chosen, they cancel in the ratio."
            .into(),
    }
}

/// A drawing as alternating words and numbers.
fn pieces(svg: &str) -> Vec<Result<f64, &str>> {
    let words = svg.split([' ', ',', '"', '<', '>', '\n']);
    words.map(|word| word.parse::<f64>().map_err(|_| word)).collect()
}

fn held(name: &str, shown: &DataAndModel) {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/figures");
    // For a printed column: at 80 mm its letters have 6 pt.
    let look = Look { size: Size { width: 720, height: 320 }, ..Look::default() };
    let drawing = data_and_model(shown, &look).expect("it draws");
    let path = format!("{folder}/{name}");
    if std::env::var("SLIPSOAK_FIGURES").is_ok_and(|word| word == "write") {
        std::fs::write(format!("{path}.svg"), &drawing.svg).expect("an SVG");
        std::fs::write(format!("{path}.png"), drawing.png().expect("a PNG")).expect("a PNG");
    }
    let kept = std::fs::read_to_string(format!("{path}.svg")).expect("a figure");
    let (now, kept) = (pieces(&drawing.svg), pieces(&kept));
    assert_eq!(now.len(), kept.len(), "{name} is not what is drawn today");
    for (is, was) in now.iter().zip(&kept) {
        // Positions are in tenths of a px: the last digits of another system may move one; a change moves many by more.
        let near = matches!((is, was), (Ok(is), Ok(was)) if (is - was).abs() <= 5.0);
        assert!(is == was || near, "{name} is not what is drawn today: {is:?}, {was:?}");
    }
    assert!(std::fs::metadata(format!("{path}.png")).is_ok_and(|png| png.len() > 1000), "{name}.png");
    let text = include_str!("../../engine/MODEL.md");
    assert!(text.contains(&format!("](../plots/figures/{name}.svg)")), "the description does not show {name}");
}

#[test]
fn the_figure_of_the_bus_drum_is_up_to_date() {
    held("measured-bus-drum", &bus());
}

#[test]
fn the_figure_of_the_truck_drum_is_up_to_date() {
    held("measured-truck-drum", &truck());
}

#[test]
fn the_figure_of_the_refill_rule_is_up_to_date() {
    held("measured-refill", &refilled());
}

#[test]
fn the_figure_of_bare_metal_shoes_is_up_to_date() {
    held("measured-bare-metal", &bare());
}
