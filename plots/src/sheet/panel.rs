//! A chart: curves over time, limits, and labels at the curves' ends inside the frame.

use crate::sheet::axis::Axis;
use crate::sheet::canvas::{SIDE, Sheet};
use crate::sheet::curve::Curve;
use crate::sheet::draw_error::DrawError;
use crate::sheet::frame::Frame;
use crate::sheet::label::{self, Label};
use crate::sheet::lettering::{Type, apart, bare_width, thinned, width_of, wrapped};
use crate::sheet::palette::{LIMIT_DASH, QUIET, TEXT};
use crate::sheet::ruler::{self, Ticks};
use crate::sheet::strip::{self, Fold, Strip};
use crate::sheet::{legend, scales};
use crate::words::number::number;
use crate::words::reading::fahrenheit;

/// A limit drawn across the chart.
pub struct Limit {
    pub label: String,
    pub at: f64,
}

/// Width of an upright title, of a tick, and of the space around a tick label, px.
const TITLED: f64 = 37.0;
/// Distance from the frame's left to the chart's of a vertical axis without a title, px.
const BARE: f64 = 24.0;
/// Line spacing of the text above the chart, px.
const LINE: f64 = 16.0;

/// What the vertical values of a chart are.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Upward {
    #[default]
    Plain,
    /// shares, shown in per cent
    Share,
    /// temperatures, shown in the reader's scale
    Celsius,
}

/// A chart of curves.
#[derive(Default)]
pub struct Panel {
    pub heading: String,
    /// text below the heading, in bold; may be empty
    pub verdict: String,
    /// further texts below it
    pub remarks: Vec<String>,
    pub across: String,
    pub up: String,
    pub x: Axis,
    pub y: (f64, f64),
    pub curves: Vec<Curve>,
    /// whether the first curve is drawn on top, because its strokes are so dense that they would hide the others
    pub first_over: bool,
    pub limits: Vec<Limit>,
    pub strips: Vec<Strip>,
    pub folds: Vec<Fold>,
    /// ticks of the horizontal and of the vertical axis instead of round values
    pub ticks: Option<Ticks>,
    pub ticks_up: Option<Ticks>,
    /// moments drawn as vertical lines, with their labels
    pub marks: Vec<(f64, &'static str)>,
    /// room for labels between the curves' ends and the right edge, px
    pub room: f64,
    /// whether labels are placed below the chart instead
    pub stacked: bool,
    /// what vertical values are
    pub upward: Upward,
    /// tick label of the vertical axis in a second unit
    pub beside: Option<fn(f64) -> String>,
    /// a horizontal value in words; else it has the words of the axis
    pub at: Option<Box<dyn Fn(f64) -> String>>,
}

/// Room for labels from which on a narrow sheet they are below the chart, px.
pub const LEGEND: f64 = 112.0;

impl Panel {
    /// Left end, right end of the curves, top and bottom of the chart in a frame, px.
    fn bounds(&self, frame: Frame) -> [f64; 4] {
        let left = frame.left + self.left();
        let top = frame.top + 28.0 + LINE * self.heads(frame.wide()).len().saturating_sub(1) as f64;
        if self.stacked {
            return [left, frame.right - 18.0, top, frame.bottom - 46.0 - self.below(frame.wide())];
        }
        [left, frame.right - 18.0 - self.room, top, frame.bottom - 46.0]
    }

    /// Lines above the chart at this frame width, px: heading, verdict and remarks.
    fn heads(&self, width: f64) -> Vec<(String, Type)> {
        let room = width - SIDE - if self.stacked { SIDE } else { self.left() };
        let heads = [(&self.heading, Type::HEADING), (&self.verdict, Type::LABEL.bold(true))];
        let remarks = self.remarks.iter().map(|words| (words, Type::LABEL.ink(QUIET)));
        let lines = |(words, set): (&String, Type)| {
            wrapped(words, set, room).unwrap_or_default().into_iter().map(move |line| (line, set))
        };
        heads.into_iter().chain(remarks).flat_map(lines).collect()
    }

    /// Height of a panel at this width, px, in addition to that of a panel with one line of heading, one of verdict and
    /// labels beside the chart.
    pub fn more(&self, width: f64) -> f64 {
        LINE * self.heads(width).len().saturating_sub(2) as f64 + self.below(width)
    }

    /// Distance from the frame's left to the chart's, px: room for the upright title and the widest tick label.
    fn left(&self) -> f64 {
        let least = match (self.up.is_empty(), self.beside.is_some()) {
            (true, _) => BARE,
            (false, true) => 98.0,
            (false, false) => 68.0,
        };
        let widths = self.up_ticks().into_iter().map(|(_, words)| bare_width(&words, Type::TICK).unwrap_or(0.0));
        widths.fold(least, |left, wide| if wide > 0.0 { left.max(wide + TITLED) } else { left })
    }

    /// Ticks of the vertical axis with their labels.
    fn up_ticks(&self) -> Ticks {
        let ticks = self.ticks_up.clone().unwrap_or_else(|| Axis::from(self.y).ticks(7));
        let label = |(value, words): (f64, String)| {
            let words = match self.upward {
                _ if words.is_empty() => words,
                Upward::Plain => words,
                Upward::Share => format!("{:.0}", 100.0 * value),
                Upward::Celsius => scales::either(&words, &number(fahrenheit(value), 1.0)),
            };
            let words = match self.beside {
                Some(unit) => format!("{words} ({})", unit(value)),
                None => words,
            };
            (value, words)
        };
        ticks.into_iter().map(label).collect()
    }

    /// Room that its labels need beside the chart, px.
    pub fn room_for_labels(&self) -> Result<f64, DrawError> {
        let curves = self.curves.iter().map(|curve| (&curve.label, curve.bold));
        let all = curves.chain(self.limits.iter().map(|limit| (&limit.label, false)));
        let widths = all.filter(|(words, _)| !words.is_empty());
        let widths = widths.map(|(words, bold)| width_of(words, Type::LABEL.bold(bold)));
        widths.map(|wide| Ok((wide? + label::REACH).ceil())).try_fold(0.0, |most: f64, wide| Ok(most.max(wide?)))
    }

    /// Height of the labels below the chart at this frame width, px.
    pub fn below(&self, width: f64) -> f64 {
        if self.stacked {
            legend::height(&self.labels(&self.x, &self.y.into()), width - 2.0 * SIDE).unwrap_or(0.0)
        } else {
            0.0
        }
    }

    /// Labels at the ends of curves and limits, and, below the chart, those of strips.
    fn labels(&self, x: &Axis, y: &Axis) -> Vec<Label> {
        let near = |at: f64| (x.ends().1 - at).abs() < 0.1 * (x.ends().1 - x.ends().0).abs();
        let curves = self.curves.iter().filter(|c| !c.label.is_empty()).map(|c| {
            let end = c.end(x, y).unwrap_or((f64::NAN, f64::NAN));
            let label = Label::of(&c.label, end.1, c.ink);
            Label { bold: c.bold, dash: c.dash, of: c.of, tied: near(end.0), ..label }
        });
        let limits = self.limits.iter().filter(|limit| !limit.label.is_empty() && y.holds(limit.at));
        let limits = limits.map(|l| Label { dash: LIMIT_DASH, ..Label::of(&l.label, y.at(l.at), QUIET) });
        let strips = self.strips.iter().filter(|_| self.stacked).map(|s| Label::of(s.name, 0.0, s.ink));
        curves.chain(limits).chain(strips).collect()
    }

    /// Horizontal and vertical scale of the chart in a frame.
    pub fn axes(&self, frame: Frame) -> (Axis, Axis) {
        let [left, end, top, bottom] = self.bounds(frame);
        let floor = bottom - strip::HIGH * self.strips.len() as f64;
        (self.x.between((left, end)), Axis::linear(self.y, (floor, top)))
    }

    /// Draws the chart into a frame.
    pub fn draw(&self, sheet: &Sheet<'_>, frame: Frame) -> Result<(), DrawError> {
        let [left, end, top, bottom] = self.bounds(frame);
        let right = if self.stacked { end } else { end + self.room };
        let floor = bottom - strip::HIGH * self.strips.len() as f64;
        let (x, y) = self.axes(frame);
        let from = if self.stacked { frame.left + SIDE } else { left };
        for (k, (line, set)) in self.heads(frame.wide()).iter().enumerate() {
            sheet.fitted(line, (from, frame.top + 13.0 + LINE * k as f64), *set, right - from)?;
        }
        let across = match &self.ticks {
            Some(ticks) => thinned(&x, ticks.clone(), Type::TICK)?,
            None => apart(&x, Type::TICK, if end - left > 400.0 { 8 } else { 5 })?,
        };
        ruler::below(sheet, &x, &across, bottom, None, &self.across)?;
        ruler::beside(sheet, &y, &self.up_ticks(), (left, end), (&self.up, self.left() - 20.0))?;
        if floor < bottom {
            sheet.line(&[(left, floor), (left, bottom)], TEXT, 0.9, None)?;
        }
        for curve in self.curves.iter().filter(|curve| !curve.band.is_empty()) {
            curve.shade(sheet, &x, &y)?;
        }
        for limit in self.limits.iter().filter(|limit| y.holds(limit.at)) {
            let at = y.at(limit.at);
            sheet.line(&[(left, at), (end, at)], QUIET, 1.0, LIMIT_DASH)?;
        }
        self.folds.iter().try_for_each(|fold| fold.draw(sheet, &x, (top, bottom)))?;
        for (k, one) in self.strips.iter().enumerate() {
            let middle = floor + strip::HIGH * (k as f64 + 0.5) + 1.0;
            one.draw(sheet, &x, middle, (!self.stacked).then_some(right - end))?;
        }
        // The first curve is solid and normally drawn first, so it shows through the gaps of dashed ones.
        let (first, rest) = self.curves.split_at(self.curves.len().min(1));
        let [under, over] = if self.first_over { [rest, first] } else { [first, rest] };
        for curve in under.iter().chain(over) {
            curve.draw(sheet, &x, &y)?;
        }
        self.marks(sheet, &x, (top, floor))?;
        // Who reads a narrow one has paper, or no mouse.
        for curve in under.iter().chain(over).filter(|_| !sheet.narrow()) {
            sheet.of(curve.of, || {
                sheet.places(&self.places(curve, &x, &y));
                Ok(())
            })?;
        }
        let labels = self.labels(&x, &y);
        if self.stacked {
            return legend::write(sheet, &labels, (frame.left + SIDE, frame.right - SIDE), bottom + 42.0);
        }
        label::write(sheet, labels, (end, self.room), (top, floor))
    }

    fn marks(&self, sheet: &Sheet<'_>, x: &Axis, (top, floor): (f64, f64)) -> Result<(), DrawError> {
        for (k, (at, words)) in self.marks.iter().filter(|mark| x.holds(mark.0)).enumerate() {
            let at = x.at(*at);
            sheet.line(&[(at, top), (at, floor)], QUIET, 0.8, LIMIT_DASH)?;
            sheet.on_paper(words, (at + 4.0, floor - 9.0 - 14.0 * k as f64), Type::TICK.ink(QUIET))?;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::composed::sheet;
    use crate::sheet::look::Look;

    #[test]
    fn the_upright_title_of_an_axis_does_not_touch_its_widest_label() {
        let thou = |mm: f64| format!("{:.1}", mm / 0.0254);
        for (range, beside) in [((0.6, 0.8), Some(thou as fn(f64) -> String)), ((0.0, 4e7), None)] {
            let panel =
                Panel { up: "thickness".to_owned(), x: (0.0, 1.0).into(), y: range, beside, ..Panel::default() };
            let frame = Frame { left: 0.0, top: 60.0, right: 480.0, bottom: 360.0 };
            let drawing =
                sheet(&Look::default(), 400.0, ["", "", ""], |sheet| panel.draw(sheet, frame)).expect("it draws");
            let place = |text: &str| text.split("x=\"").nth(1)?.split('"').next()?.parse::<f64>().ok();
            let texts: Vec<&str> = drawing.svg.split("<text").skip(1).collect();
            let title =
                texts.iter().find(|text| text.contains("rotate")).and_then(|text| place(text)).expect("a title");
            let labels = texts.iter().filter(|text| text.contains("\"end\"")).map(|text| {
                let words = text.split('\n').nth(1).expect("words");
                place(text).expect("a place") / 10.0 - bare_width(words, Type::TICK).expect("a width")
            });
            // Half of the title's letters, which are 13 px, are to the right of its middle.
            let gap = labels.fold(f64::INFINITY, f64::min) - title / 10.0 - 6.5;
            assert!((2.0..40.0).contains(&gap), "{range:?}: {gap}");
        }
    }
}
