//! What the places of a chart say to a reader who points at them: their values with units.

use crate::sheet::axis::{Axis, extent, pieces};
use crate::sheet::curve::Curve;
use crate::sheet::frame::Place;
use crate::sheet::panel::{Panel, Upward};
use crate::sheet::scales;
use crate::words::number::figures;
use crate::words::reading::fahrenheit;

/// Largest number of places of a chart, and of a curve, that say their values.
const PLACES: usize = 24;
const ON_A_CURVE: usize = 6;

impl Panel {
    /// Places of a curve that say its name and their values: its dots, or some at even distances.
    pub(super) fn places(&self, curve: &Curve, x: &Axis, y: &Axis) -> Vec<(Place, String)> {
        if curve.called().is_empty() {
            return vec![];
        }
        let pieces = pieces(&curve.points, x, y);
        let (from, to) = extent(pieces.iter().flatten().map(|p| p.0));
        let count = (PLACES / self.curves.len()).clamp(2, ON_A_CURVE);
        let even = (0..count).map(|k| from + (to - from) * (k as f64 + 0.5) / count as f64);
        let on = |at: f64| {
            let mut spans = pieces.iter().flat_map(|piece| piece.windows(2));
            let span = spans.find(|p| p[0].0 <= at && p[1].0 > at)?;
            Some((at, span[0].1 + (at - span[0].0) / (span[1].0 - span[0].0) * (span[1].1 - span[0].1)))
        };
        let all: Vec<Place> = if curve.dots {
            curve.points.iter().map(|p| (x.within(p.0), y.within(p.1))).collect()
        } else {
            even.filter_map(on).collect()
        };
        let said = |at: Place| format!("{}, {}", curve.called(), self.said((x.value(at.0), y.value(at.1))));
        all.into_iter().map(|at| (at, said(at))).collect()
    }

    /// What a point says to a reader who points at it: its values with their units.
    pub fn said(&self, (across, up): Place) -> String {
        // “2.5 minutes”, on an axis “time, minutes”.
        let unit = self.across.rsplit(", ").next().unwrap_or_default();
        let across = self.at.as_ref().map_or_else(|| format!("{} {unit}", figures(across, 3)), |at| at(across));
        format!("{across}, {}", self.value(up))
    }

    /// A vertical value with its unit.
    fn value(&self, value: f64) -> String {
        match self.upward {
            Upward::Plain => {
                let unit = self.up.rsplit_once(", ").map_or("", |(_, unit)| unit);
                format!("{} {}", figures(value, 3), unit.split(" (").next().unwrap_or_default()).trim_end().to_owned()
            }
            Upward::Share => format!("{} %", figures(100.0 * value, 3)),
            Upward::Celsius => scales::pair(&format!("{value:.0} °C"), &format!("{:.0} °F", fahrenheit(value))),
        }
    }
}
