//! A balance as a flow diagram: inputs at the left, outputs at the right, widths proportional to amounts.

use crate::sheet::canvas::{SIDE, Sheet};
use crate::sheet::draw_error::DrawError;
use crate::sheet::frame::{Frame, Place};
use crate::sheet::label::spread;
use crate::sheet::lettering::{Type, fit, width_of};
use crate::sheet::palette::{Ink, QUIET, colour};

/// One stream.
struct Stream {
    name: String,
    amount: f64,
    ink: Ink,
}

/// A balance; both sides have the same sum.
pub struct Flow {
    heading: String,
    inward: Vec<Stream>,
    outward: Vec<Stream>,
    /// text instead of the drawing if all amounts are zero
    empty: &'static str,
}

/// Share of the whole balance below which a stream is added to the rest.
const LEAST: f64 = 2e-4;
/// Height of a label, px.
const LINE: f64 = 16.0;
/// Height of the heading and of the space below, px.
const HEAD: f64 = 30.0;
const TAIL: f64 = 12.0;
/// Largest width of all streams together, px.
pub const WIDEST: f64 = 96.0;

impl Flow {
    /// A balance of amounts that go out, or come in if they are below zero. Each has its name in both cases and its
    /// colour. Streams below an amount, and what is missing on a side, are "other".
    pub fn of<N: Into<String>>(
        heading: String,
        amounts: impl IntoIterator<Item = (&'static str, N, usize, f64)>,
        least: f64,
        empty: &'static str,
    ) -> Self {
        let (mut inward, mut outward) = (vec![], vec![]);
        for (leaving, coming, order, amount) in amounts {
            let (side, name) =
                if amount >= 0.0 { (&mut outward, leaving.to_owned()) } else { (&mut inward, coming.into()) };
            side.push(Stream { name, amount: amount.abs(), ink: colour(order) });
        }
        let least_shown = (LEAST * sum(&outward)).max(least);
        for side in [&mut inward, &mut outward] {
            side.retain(|stream| stream.amount > least_shown);
        }
        let rest = sum(&inward) - sum(&outward);
        if rest.abs() > least {
            let side = if rest > 0.0 { &mut outward } else { &mut inward };
            side.push(Stream { name: "other".to_owned(), amount: rest.abs(), ink: QUIET });
        }
        Self { heading, inward, outward, empty }
    }

    /// Height of the diagram, px, at this many px per unit of amount.
    pub fn height(&self, per: f64) -> f64 {
        let side = |streams: &[Stream]| streams.iter().map(|stream| slot(stream, per)).sum::<f64>();
        HEAD + side(&self.inward).max(side(&self.outward)) + TAIL
    }

    /// Total amount.
    pub fn sum(&self) -> f64 {
        sum(&self.outward)
    }

    /// Draws the streams at this many px per unit of amount. Amounts of the left and right side have their own format.
    pub fn draw(
        &self,
        sheet: &Sheet<'_>,
        frame: Frame,
        per: f64,
        words: impl Fn(f64, bool) -> String,
    ) -> Result<(), DrawError> {
        let head = Type::HEADING;
        let margin = if sheet.narrow() { 8.0 } else { SIDE };
        let (left, right) = (frame.left + margin, frame.right - margin);
        let moved = if self.sum() > 0.0 { format!(", {} in all", words(self.sum(), false)) } else { String::new() };
        let room = frame.wide() - 2.0 * SIDE - width_of(&moved, head)?;
        let heading = format!("{}{moved}", fit(&self.heading, head, room)?);
        sheet.text(&heading, (frame.left + SIDE, frame.top + 14.0), head)?;
        if self.sum() <= 0.0 {
            let set = Type::LABEL.ink(QUIET);
            return sheet.text(self.empty, (left, frame.top + HEAD + 14.0), set);
        }
        let wide = right - left;
        // A narrow sheet leaves a larger share of its width to the text.
        let shares = if sheet.narrow() { [0.375, 0.555] } else { [0.33, 0.52] };
        let (from, to) = (left + shares[0] * wide, right - shares[1] * wide);
        let (trunk_from, trunk_to) = (from + 0.36 * (to - from), from + 0.5 * (to - from));
        let (top, bottom) = (frame.top + HEAD, frame.bottom - TAIL);
        let middle = 0.5 * (top + bottom);
        let half = 0.5 * self.sum() * per;
        sheet.block(Frame::between((trunk_from, middle - half), (trunk_to, middle + half)), QUIET, 0.35)?;
        for (side, streams, outer, inner) in [(1, &self.inward, from, trunk_from), (-1, &self.outward, to, trunk_to)] {
            let slots: Vec<f64> = streams.iter().map(|stream| slot(stream, per)).collect();
            let heights = spread(&slots, top, bottom);
            let mut at = middle - half;
            for (stream, height) in streams.iter().zip(heights) {
                let thick = stream.amount * per;
                let edges = ((outer, height), (inner, at + 0.5 * thick));
                let end = if side > 0 { (outer - 4.0, outer) } else { (outer, outer + 4.0) };
                let half = 0.5 * thick.max(0.7);
                sheet.says(&format!("{} {}", stream.name, words(stream.amount, side < 0)), || {
                    sheet.shape(&band(edges.0, edges.1, thick.max(0.7)), stream.ink, 0.55)?;
                    sheet.block(Frame::between((end.0, height - half), (end.1, height + half)), stream.ink, 1.0)
                })?;
                at += thick;
                let (place, room) =
                    if side > 0 { (outer - 10.0, outer - left - 8.0) } else { (outer + 10.0, right - outer - 10.0) };
                label(sheet, stream, (place, height), (side, room), &words(stream.amount, side < 0))?;
            }
        }
        Ok(())
    }
}

fn sum(streams: &[Stream]) -> f64 {
    streams.iter().map(|stream| stream.amount).sum()
}

/// Writes the stream's name and amount; only the name is shortened.
fn label(
    sheet: &Sheet<'_>,
    stream: &Stream,
    at: Place,
    (side, room): (i8, f64),
    amount: &str,
) -> Result<(), DrawError> {
    let set = Type::TICK.side(side);
    let left_over = room - width_of(amount, set)? - 6.0;
    let name = fit(&stream.name, set, left_over.max(20.0))?;
    sheet.text(&format!("{name} {amount}"), at, set)
}

/// Height of a stream with its label, px.
fn slot(stream: &Stream, per: f64) -> f64 {
    (stream.amount * per + 5.0).max(LINE)
}

/// A curved band of constant thickness from one position to another.
fn band(from: Place, to: Place, thick: f64) -> Vec<Place> {
    let along = |k: u32| {
        let s = f64::from(k) / 24.0;
        (from.0 + s * (to.0 - from.0), from.1 + s * s * (3.0 - 2.0 * s) * (to.1 - from.1))
    };
    let over = (0..=24).map(along).map(|p| (p.0, p.1 - 0.5 * thick));
    let under = (0..=24).rev().map(along).map(|p| (p.0, p.1 + 0.5 * thick));
    over.chain(under).collect()
}

/// The largest sum of some flows, and the height of the tallest if all have the same scale, px.
pub fn tallest(flows: &[Flow]) -> (f64, f64) {
    let most = flows.iter().map(Flow::sum).fold(1e-9, f64::max);
    (most, flows.iter().map(|flow| flow.height(WIDEST / most)).fold(0.0, f64::max))
}
