//! Sweeps and rankings made up by formulas.

use slipsoak_engine::fleet::Spread;
use slipsoak_engine::laws::margin::{VARIATION, needed};
use slipsoak_engine::names::Part;
use slipsoak_engine::record::Warned;
use slipsoak_engine::sensitivity::{Answer, Influence, Influences, Moved, Ranking};
use slipsoak_engine::statistics::Index;
use slipsoak_engine::sweep::{Axis, Row, Summary, Sweep};

const HOUR: f64 = 3600.0;
pub const SCRIPT: &str = "<script>alert('&')</script>";

pub fn axis(name: &str, values: &[f64], unit: &str) -> Axis {
    Axis {
        name: name.to_owned(),
        meaning: "what it is".to_owned(),
        unit: unit.to_owned(),
        values: values.to_vec(),
        labels: values.iter().map(|v| format!("{v} {unit}").trim().to_owned()).collect(),
    }
}

pub fn sweep(axes: Vec<Axis>) -> Sweep {
    let mut places = vec![vec![]];
    for axis in &axes {
        places = places
            .iter()
            .flat_map(|place: &Vec<usize>| (0..axis.labels.len()).map(move |k| [place.as_slice(), &[k]].concat()))
            .collect();
    }
    let row = |place: Vec<usize>| {
        let sum = place.iter().sum::<usize>() as f64;
        let summary = Summary {
            lining_peak: 373.15 + 30.0 * sum,
            slip_energy: (sum > 0.0).then_some(1e3 * sum),
            life: (sum < 7.0).then(|| 2000.0 * HOUR / 4f64.powf(sum)),
            ended_by: Some(Part::Lining),
            ..Summary::default()
        };
        Row { place, variant: "cart".to_owned(), duty: "day".to_owned(), summary }
    };
    Sweep {
        kind: slipsoak_engine::document::Is::default(),
        head: slipsoak_engine::document::Head {
            program: "slipsoak".to_owned(),
            script: "made up".to_owned(),
            title: format!("Which? {SCRIPT}"),
            ..Default::default()
        },
        rows: places.into_iter().map(row).collect(),
        axes,
        failed: vec![],
    }
}

/// Springs and idles whose lining exceeds 250 °C from 100 rpm below idle on.
pub fn crossed() -> Sweep {
    let mut sweep = sweep(vec![
        axis("clutch.engagement", &[1600.0, 1700.0, 1800.0, 1900.0], "rpm"),
        axis("motor.idle", &[1600.0, 1700.0, 1800.0], "rpm"),
    ]);
    for axis in &mut sweep.axes {
        axis.values.iter_mut().for_each(|rpm| *rpm *= std::f64::consts::PI / 30.0);
    }
    for row in &mut sweep.rows {
        let over = 100.0 * (row.place[0] as f64 - row.place[1] as f64);
        let at = |axis: usize| Some(sweep.axes[axis].values[row.place[axis]]);
        (row.summary.engagement, row.summary.idle) = (at(0), at(1));
        row.summary.needed = at(0).zip(at(1)).map(|(engages, idle)| needed(engages, 4, idle, VARIATION));
        row.summary.lining_limit = Some(523.15);
        row.summary.lining_peak = if over < 0.0 { 513.15 - 0.5 * over } else { 400.0 };
        // A spring at idle drags without heat.
        row.summary.warnings = if over <= 0.0 { vec![Warned::Drag] } else { vec![] };
    }
    sweep
}

pub fn influences(rows: u64) -> Influences {
    let answer = |hours: f64, peak: f64| Answer {
        end: (hours < 600.0).then_some(hours * HOUR),
        ended_by: Some(Part::Lining),
        service_due: (hours < 500.0).then_some(0.5 * hours * HOUR),
        running_share: 1.0,
        lining_peak: 273.15 + peak,
        wrong_oil: false,
        descends: false,
        fault: None,
    };
    let influence = |(k, (draw, low, high)): (usize, (&str, f64, f64))| {
        let share = 0.6 / (k + 1) as f64;
        let index = Index { first: share, total: share + 0.1, first_error: 0.05, total_error: 0.04 };
        Influence {
            draw: draw.to_owned(),
            by_script: k == 1,
            settings: vec![Moved {
                path: draw.to_owned(),
                unit: "1".to_owned(),
                spread: Spread::Factor(2.0),
                low: 0.5,
                nominal: 1.0,
                high: 2.0,
            }],
            low: answer(low, 150.0 + 2.0 * k as f64),
            high: answer(high, 150.0 - 9.0 * k as f64),
            end: (rows > 0).then_some(index),
            service_due: None,
            lining_peak: (rows > 0).then_some(index),
        }
    };
    let draws = [
        ("lining.wear", 520.0, 190.0),
        ("clutch.engagement", 410.0, 280.0),
        ("oiling.leak", 700.0, 310.0),
        (SCRIPT, 350.0, 360.0),
        ("oiling.drop", 350.0, 350.0),
    ];
    let ranking = Ranking {
        variant: "cart".to_owned(),
        duty: "rounds".to_owned(),
        horizon: Some(600.0 * HOUR),
        running_share: 1.0,
        nominal: answer(350.0, 150.0),
        influences: draws.into_iter().enumerate().map(influence).collect(),
        beyond: 3,
    };
    Influences {
        kind: slipsoak_engine::document::Is::default(),
        head: slipsoak_engine::document::Head {
            program: "slipsoak".to_owned(),
            script: "made up".to_owned(),
            title: "What decides it?".to_owned(),
            ..Default::default()
        },
        rows,
        runs: 100,
        failed: vec![],
        rankings: vec![ranking],
    }
}
