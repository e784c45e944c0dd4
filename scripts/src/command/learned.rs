//! A calibration as text for the terminal.

use crate::command::table::cautions;
use crate::command::terminal::{Set, set_in, strong, table, wrapped};
use crate::read::units::unit_of;
use slipsoak_engine::calibrate::{Calibration, Forecast, Learned, NINETY_FIVE, Told, strongest};
use slipsoak_engine::parts::{Dimension, in_words, parameter};
use slipsoak_engine::statistics::Bounds;

/// Factors of widened errors above which they are reported, and above which they are doubtful.
const WIDER: [f64; 2] = [1.05, 2.0];

/// Learned constants, their data, and the quality of the fit.
pub fn printed(told: &Told) -> String {
    let c = &told.calibration;
    let mut text = format!("{}\n\n", strong(wrapped(&format!("{}, learned from worn parts", c.machine), 0).trim_end()));
    text += &constants(c);
    text.push('\n');
    if let Some(forecast) = &told.forecast {
        text += &lives(forecast);
        text.push('\n');
    }
    for l in &c.constants {
        text += &set_in(&format!("{} ({}): from {}.", in_words(&l.path), l.path, l.from.join(", ")), 2, 4);
    }
    for s in &c.data {
        let aside = if s.set_aside > 0 {
            format!(", {} set aside (running-in, or moved by nothing that is learned)", s.set_aside)
        } else {
            String::new()
        };
        text += &set_in(&format!("{}: {} readings used{aside}; duty: {}.", s.file, s.used, s.duty), 2, 4);
    }
    for r in &c.running_in {
        let (depth, error) = (1e6 * r.depth, 1e6 * NINETY_FIVE * r.error);
        text += &set_in(&format!("Running-in of the {}: {depth:.0} ± {error:.0} µm (90 %).", r.part), 2, 4);
    }
    if let Some((i, j, r)) = strongest(&c.correlation) {
        let pair = [i, j].map(|k| in_words(&c.constants[k].path)).join(" and ");
        text += &set_in(&format!("Strongest correlation of errors: {pair}, {r:.2}."), 2, 4);
    }
    text += &set_in(&fit(c), 2, 4);
    text += &wrapped(
        "The readings' scatter, the parts' tolerances when new and the running-in are assumed unless the head of a column says ±.",
        0,
    );
    text + cautions().as_str()
}

/// A number with three digits.
fn three(value: f64) -> String {
    let digits = (2 - value.abs().max(1e-300).log10().floor() as i32).clamp(0, 12) as usize;
    if value == 0.0 || (1e-3..1e6).contains(&value.abs()) {
        format!("{value:.digits$}")
    } else {
        format!("{value:.2e}")
    }
}

pub(crate) fn constants(c: &Calibration) -> String {
    let heads = [
        ("constant, unit", Set::Whole),
        ("before\nlikely from, to", Set::Numbers),
        ("learned\n90 % within", Set::Numbers),
        ("clutches\ndiffer\n÷ or ×", Set::Numbers),
    ];
    let row = |l: &Learned| {
        let dimension = parameter(&l.path).map_or(Dimension::Ratio, |p| p.dimension);
        let of = |value: f64| unit_of(dimension).map_or(value, |u| u.from_si(value));
        let unit = match unit_of(dimension) {
            _ if dimension == Dimension::Ratio => "  a factor",
            Some(unit) => &format!("  {}", unit.texts[0]),
            None => &format!("  {}", dimension.unit()),
        };
        let cell = |value: f64, factor: f64| {
            format!("{}\n{} to {}", three(of(value)), three(of(value / factor)), three(of(value * factor)))
        };
        vec![
            format!("{}\n{unit}", in_words(&l.path)),
            cell(l.before, l.before_factor),
            cell(l.value, l.factor),
            if l.clutches_factor > 1.0 { three(l.clutches_factor) } else { "–".to_owned() },
        ]
    };
    table(&heads, c.constants.iter().map(row).collect())
}

fn lives(f: &Forecast) -> String {
    let hours = |time: Option<f64>| {
        let beyond = || format!("> {:.0}", f.horizon / 3600.0);
        time.map_or_else(beyond, |s| format!("{:.0}", s / 3600.0))
    };
    let bound = |time: Option<f64>| time.map_or_else(|| "–".to_owned(), |s| format!("{:.0}", s / 3600.0));
    let cell = |b: &Bounds| format!("{}\n{} to {}", hours(b.estimate), bound(b.low), bound(b.high));
    let heads = [("", Set::Words), ("B10\nh", Set::Numbers), ("B50\nh", Set::Numbers), ("B90\nh", Set::Numbers)];
    let row =
        |(name, set): (&str, &[Bounds; 3])| std::iter::once(name.to_owned()).chain(set.iter().map(cell)).collect();
    let above = format!("Lives of {} clutches under `{}`, below each the 90 % bounds:", f.clutches, f.duty);
    let rows = [("before", &f.before), ("after", &f.after)].into_iter().map(row).collect();
    wrapped(&above, 0) + table(&heads, rows).as_str()
}

fn fit(c: &Calibration) -> String {
    let q = &c.quality;
    let wider = if q.widened > WIDER[0] {
        let doubt = if q.widened > WIDER[1] { " (so much that the duty or a unit may be wrong)" } else { "" };
        format!("; readings scatter more than stated, so the errors were widened {:.2} times{doubt}", q.widened)
    } else {
        String::new()
    };
    format!(
        "Fit: sum of squares {:.1} for {} degrees of freedom{wider}; {} of {} searches ended there (seed {}).",
        q.sum,
        q.freedom,
        q.searches.1,
        q.searches.0,
        c.head.seeds_listed()
    )
}
