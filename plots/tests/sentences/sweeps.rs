//! Sweeps.

use super::said::{HOUR, RPM, Said, sentences};
use slipsoak_engine::laws::margin::{VARIATION, needed};
use slipsoak_engine::names::Part;
use slipsoak_engine::record::Warned;
use slipsoak_engine::sweep::{Axis, Row, Summary, Sweep};
use slipsoak_plots::words;

/// A sweep of springs and idles, with the lining's peak by the margin, rpm.
pub fn sweep(peaks: &dyn Fn(f64) -> f64, drags: bool) -> Sweep {
    let axis = |name: &str, values: &[f64]| Axis {
        name: name.to_owned(),
        meaning: String::new(),
        unit: "rad/s".to_owned(),
        values: values.iter().map(|rpm| rpm * RPM).collect(),
        labels: values.iter().map(|rpm| format!("{rpm} rpm")).collect(),
    };
    let axes = vec![axis("clutch.engagement", &[1700.0, 1900.0]), axis("motor.idle", &[1600.0, 1700.0, 1800.0])];
    let row = |place: [usize; 2]| {
        let at = |axis: usize| axes[axis].values[place[axis]];
        let over = at(0) - at(1);
        let summary = Summary {
            lining_peak: peaks(over / RPM),
            lining_limit: Some(523.15),
            engagement: Some(at(0)),
            idle: Some(at(1)),
            needed: Some(needed(at(0), 4, at(1), VARIATION)),
            life: Some((1000.0 - 100.0 * place[1] as f64) * HOUR),
            running: Some((600.0 - 100.0 * place[1] as f64) * HOUR),
            ended_by: Some(Part::Lining),
            warnings: match peaks(over / RPM) {
                _ if drags && over <= 0.0 => vec![Warned::Drag],
                peak if peak > 773.15 => vec![Warned::Beyond],
                _ => vec![],
            },
            ..Summary::default()
        };
        Row { place: place.to_vec(), variant: String::new(), duty: String::new(), summary }
    };
    let rows = (0..2).flat_map(|a| (0..3).map(move |b| [a, b])).map(row).collect();
    let (kind, head) = Default::default();
    Sweep { kind, head, axes, rows, failed: vec![] }
}

/// Springs and loads, of which those from a place on are too heavy.
fn loads(heavy: usize) -> Sweep {
    let mut swept = sweep(&|_| 400.0, false);
    "vehicle.mass".clone_into(&mut swept.axes[1].name);
    swept.axes[1].labels = [120, 180, 260].map(|mass| format!("{mass} kg")).to_vec();
    for row in &mut swept.rows {
        row.summary.idle = Some(1500.0 * RPM);
        if row.place[1] >= heavy {
            row.summary.warnings = vec![Warned::Lining];
        }
    }
    swept
}

pub fn sweeps() -> Vec<Said> {
    let of = |peaks: &dyn Fn(f64) -> f64, drags: bool| words::sweep::answer(&sweep(peaks, drags));
    let mut but_one = sweep(&|over| 640.0 - 0.3 * over, false);
    but_one.rows[0].summary.lining_peak = 400.0;
    // Two machines, or two of four machines and springs, have a wrong oil.
    let wrong = |by: usize| {
        let mut sweep = sweep(&|_| 400.0, false);
        (sweep.axes[by].name, sweep.axes[by].values) = ("machine".to_owned(), vec![]);
        sweep.axes[by].labels =
            ["plain", "PTFE", "silicone"][..sweep.axes[by].labels.len()].iter().map(|&l| l.into()).collect();
        for row in sweep.rows.iter_mut().filter(|row| row.place[by] > 0) {
            row.summary.warnings.push(Warned::Additive);
        }
        sweep
    };
    let mut some = wrong(0);
    some.rows[3].summary.warnings.clear();
    let mut mass = loads(2);
    mass.rows.retain(|row| row.place[0] == 0);
    mass.axes[0].labels.truncate(1);
    mass.axes[0].values.truncate(1);
    vec![
        sentences("sweep, two machines with the wrong oil", &words::sweep::answer(&wrong(1))),
        sentences("sweep, some combinations with the wrong oil", &words::sweep::answer(&some)),
        sentences("sweep, springs that fit under every load", &words::sweep::answer(&loads(3))),
        sentences("sweep, springs that fit under some loads", &words::sweep::answer(&loads(1))),
        sentences("sweep, loads of one spring", &words::sweep::answer(&mass)),
        sentences(
            "sweep, the limit exceeded at every margin, not in every combination",
            &words::sweep::answer(&but_one),
        ),
        sentences("sweep, the limit exceeded near the idle", &of(&|over| 540.0 - 0.3 * over, true)),
        sentences("sweep, the limit exceeded everywhere", &of(&|over| 640.0 - 0.3 * over, false)),
        sentences("sweep, beyond the model at one end", &of(&|over| 640.0 - 1.5 * over, false)),
        sentences("sweep, cool", &of(&|_| 400.0, false)),
        sentences("sweep, hot in the middle alone", &of(&|over| if over.abs() < 150.0 { 560.0 } else { 400.0 }, true)),
    ]
}
