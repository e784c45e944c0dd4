//! The stack of parts under the cover along the shaft, to scale, with its tolerances.

use crate::sheet::prelude::*;
use slipsoak_engine::names::Channel;
use slipsoak_engine::parts::settings::{cover, limits, washer};
use slipsoak_engine::record::Run;

/// m to mm, and mm to thou.
pub const MM: f64 = 1e3;
pub const THOU: f64 = 1e-3 / slipsoak_engine::units::THOU;
/// Height of the section, px.
pub const SECTION: f64 = 190.0;
/// Room left of the sprocket's face and right of the cover's, px, and on a narrow sheet.
const BESIDE: [f64; 2] = [190.0, 240.0];
const NARROW: [f64; 2] = [116.0, 66.0];

/// Sizes of a run's stack, mm.
pub struct Stack {
    pub proud: f64,
    pub washer: f64,
    proud_tolerance: f64,
    washer_tolerance: f64,
    pub least: Option<f64>,
}

impl Stack {
    /// None if the record lacks a size.
    pub fn of(run: &Run) -> Option<Self> {
        let mm = |path| run.setting(path).map(|v| v * MM).filter(|v| v.is_finite());
        Some(Self {
            proud: mm(&cover::proud)?,
            washer: mm(&washer::thickness)?,
            proud_tolerance: mm(&cover::proud_tolerance)?,
            washer_tolerance: mm(&cover::washer_tolerance)?,
            least: mm(&limits::cover_gap),
        })
    }

    pub fn gap(&self) -> f64 {
        self.proud + self.washer
    }

    /// Worst-case deviation: every part at its limit.
    pub fn worst(&self) -> f64 {
        self.proud_tolerance.abs() + self.washer_tolerance.abs()
    }

    /// RSS deviation, valid for independent, centred, normally distributed sizes.
    pub fn rss(&self) -> f64 {
        self.proud_tolerance.hypot(self.washer_tolerance)
    }

    /// Sizes, mm.
    pub fn sizes(&self) -> [f64; 4] {
        [self.proud, self.washer, self.proud_tolerance, self.washer_tolerance]
    }
}

/// Wear of the washer, and then of the bushing's face, in each window of a run, mm.
pub fn wear(run: &Run) -> impl Iterator<Item = f64> {
    run.windows.most.iter().map(|row| MM * Channel::WasherWear.of(row))
}

/// A length in millimetres and thou.
pub fn both(mm: f64) -> String {
    format!("{mm:.2} mm ({:.0} thou)", mm * THOU)
}

/// A part of the section.
fn block(sheet: &Sheet<'_>, (from, to): (Place, Place), ink: Ink, opacity: f64) -> Result<(), DrawError> {
    let outline = [from, (to.0, from.1), to, (from.0, to.1)];
    sheet.shape(&outline, ink, opacity)?;
    sheet.outline(&outline, TEXT, 0.8)
}

/// The stack along the shaft, below a height, px.
pub fn draw(sheet: &Sheet<'_>, stack: &Stack, over: f64) -> Result<(), DrawError> {
    let [left, right] = if sheet.narrow() { NARROW } else { BESIDE };
    let most = (stack.gap() + stack.worst()).max(0.1);
    let axis = Axis::linear((0.0, most), (SIDE + left, sheet.width - SIDE - right));
    let (top, bottom) = (over + 44.0, over + SECTION - 10.0);
    let (face, proud, gap) = (axis.at(0.0), axis.at(stack.proud), axis.at(stack.gap()));
    let step = 0.42 * (bottom - top);
    block(sheet, ((face - 46.0, top), (face, bottom)), QUIET, 0.35)?;
    let bushing = ((face - 46.0, bottom - step), (proud, bottom));
    let said = format!("bushing, proud {}", both(stack.proud));
    sheet.says(&said, || block(sheet, bushing, colour(hues::BUSHING), 0.3))?;
    let washer = ((proud, bottom - step - 12.0), (gap, bottom));
    let said = format!("washer {}", both(stack.washer));
    sheet.says(&said, || block(sheet, washer, colour(hues::WASHER), 0.6))?;
    block(sheet, ((gap, top), (gap + 34.0, bottom)), QUIET, 0.35)?;
    let set = Type::LABEL;
    sheet.text("sprocket", (face - 52.0, top + 14.0), set.side(1))?;
    sheet.text("bushing", (face - 52.0, bottom - 0.5 * step), set.side(1))?;
    sheet.on_paper("cover", (gap + 8.0, bottom + 10.0), Type::TICK)?;
    let middle = 0.5 * (face + proud);
    let height = bottom - 0.5 * step;
    for (k, words) in
        [format!("proud {:.2} mm", stack.proud), format!("({:.0} thou)", stack.proud * THOU)].iter().enumerate()
    {
        sheet.text(words, (middle, height + 16.0 * (k as f64 - 0.5)), set.side(0))?;
    }
    let words = format!("washer {}", both(stack.washer));
    if sheet.narrow() {
        let at = (0.5 * (proud + gap), bottom - step - 4.0);
        sheet.line(&[at, (at.0, at.1 - 14.0)], TEXT, 0.7, None)?;
        sheet.on_paper(&words, (gap - 4.0, at.1 - 22.0), set.side(1))?;
    } else {
        sheet.line(&[(0.5 * (proud + gap), bottom - 10.0), (gap + 40.0, bottom - 10.0)], TEXT, 0.7, None)?;
        sheet.text(&words, (gap + 44.0, bottom - 10.0), set)?;
    }
    let height = top - 14.0;
    arrow(sheet, (face, height), (gap, height))?;
    let gap_words = format!("gap {}", both(stack.gap()));
    sheet.text(&gap_words, (0.5 * (face + gap), height - 12.0), set.side(0))?;
    for (reach, width) in [(stack.worst(), 1.0), (stack.rss(), 3.0)] {
        sheet.line(
            &[(axis.at(stack.gap() - reach), top + 10.0), (axis.at(stack.gap() + reach), top + 10.0)],
            TEXT,
            width,
            None,
        )?;
    }
    for reach in [-stack.worst(), stack.worst()] {
        let at = axis.at(stack.gap() + reach);
        sheet.line(&[(at, top + 5.0), (at, top + 15.0)], TEXT, 1.0, None)?;
    }
    let words = [format!("±{:.2} worst,", stack.worst()), format!("±{:.2} RSS", stack.rss())];
    let at = (axis.at(stack.gap() - stack.worst()) - 8.0, top + 10.0);
    if sheet.narrow() {
        let at = (axis.at(stack.gap() - stack.worst()) - 6.0, top + 6.0);
        return sheet.lines(&words, at, Type::TICK.side(1), 15.0);
    }
    sheet.text(&words.join(" "), at, Type::TICK.side(1))
}

/// A line with an arrowhead at each end.
fn arrow(sheet: &Sheet<'_>, from: Place, to: Place) -> Result<(), DrawError> {
    sheet.line(&[from, to], TEXT, 0.9, None)?;
    for (tip, back) in [(from, 7.0), (to, -7.0)] {
        sheet.shape(&[tip, (tip.0 + back, tip.1 - 3.0), (tip.0 + back, tip.1 + 3.0)], TEXT, 1.0)?;
    }
    Ok(())
}
