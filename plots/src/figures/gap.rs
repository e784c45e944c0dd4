//! The gap under the cover: the stack of parts to scale, its tolerances, and the gap left by wear.

use crate::figures::chosen::shown;
use crate::figures::reading::rows_that_fit;
use crate::sheet::prelude::*;
use slipsoak_engine::names::Channel;
use slipsoak_engine::parts::settings::{cover, limits, washer};
use slipsoak_engine::record::{Record, Run};

/// m to mm, and mm to thou.
const MM: f64 = 1e3;
const THOU: f64 = 1e-3 / slipsoak_engine::units::THOU;
/// Height of the section, and of a run's two bars, px.
const SECTION: f64 = 190.0;
const ROW: f64 = 62.0;
/// Room for names at the left and for values at the right, px.
const NAMES: f64 = 190.0;
const VALUES: f64 = 196.0;
/// Widths on a narrow sheet, where names are above the bars and values below them.
const NARROW: [f64; 2] = [106.0, 66.0];
const NARROW_ROW: f64 = 136.0;

/// Left and right end of the bars of a sheet, px.
fn ends(sheet: &Sheet<'_>) -> (f64, f64) {
    let [names, values] = if sheet.narrow() { NARROW } else { [NAMES, VALUES] };
    (SIDE + names, sheet.width - SIDE - values)
}

/// Sizes of a run's stack, mm.
struct Stack {
    proud: f64,
    washer: f64,
    proud_tolerance: f64,
    washer_tolerance: f64,
    least: Option<f64>,
    /// wear of the washer and of the bushing's face at the end of the run
    wear: f64,
}

impl Stack {
    fn of(run: &Run) -> Option<Self> {
        let mm = |path| run.setting(path).map(|v| v * MM).filter(|v| v.is_finite());
        let wear = run.windows.most.last().map(|row| Channel::WasherWear.of(row));
        Some(Self {
            proud: mm(&cover::proud)?,
            washer: mm(&washer::thickness)?,
            proud_tolerance: mm(&cover::proud_tolerance)?,
            washer_tolerance: mm(&cover::washer_tolerance)?,
            least: mm(&limits::cover_gap),
            wear: wear.map_or(0.0, |w| w * MM),
        })
    }

    fn gap(&self) -> f64 {
        self.proud + self.washer
    }

    /// Worst-case deviation: every part at its limit.
    fn worst(&self) -> f64 {
        self.proud_tolerance.abs() + self.washer_tolerance.abs()
    }

    /// RSS deviation, valid for independent, centred, normally distributed sizes.
    fn rss(&self) -> f64 {
        self.proud_tolerance.hypot(self.washer_tolerance)
    }
}

/// A length in millimetres and thou.
fn both(mm: f64) -> String {
    format!("{mm:.2} mm ({:.0} thou)", mm * THOU)
}

/// Sizes of a run's stack and its wear, µm.
fn prints(run: &Run) -> Vec<f64> {
    let of = |s: Stack| [s.proud, s.washer, s.proud_tolerance, s.washer_tolerance, s.wear].map(|mm| 1e3 * mm).to_vec();
    Stack::of(run).map_or_else(Vec::new, of)
}

pub fn draw(record: &Record, look: &Look) -> Result<Drawing, DrawError> {
    let tall = if look.narrow() { NARROW_ROW } else { ROW };
    let chosen = shown(record, look, rows_that_fit(HEAD + SECTION + 60.0 + FOOT, tall), prints, 10.0);
    let runs: Vec<(usize, &Run)> = chosen.runs().collect();
    let stacks: Vec<Option<Stack>> = runs.iter().map(|(_, run)| Stack::of(run)).collect();
    let height = HEAD + SECTION + tall * runs.len() as f64 + 60.0 + FOOT;
    let note = "Lengths along the shaft to scale. Thick whisker: root sum square (RSS); thin: every part at its worst. Wear of washer and bushing's face closes the gap.";
    let describe = "Above: section of the stack under the cover along the shaft: sprocket's face, bushing proud of it, washer, cover. Below: for each run the gap at the start with its tolerances and at the end of the run, mm and thou.";
    chosen.sheet(look, height, ["Gap under the cover", note, describe], |sheet| {
        let most = stacks.iter().flatten().map(|s| s.gap() + s.worst()).fold(0.1, f64::max);
        let axis = Axis::linear(rounded((0.0, 1.12 * most), 6.0), ends(sheet));
        let floor = HEAD + SECTION + tall * runs.len() as f64 + 4.0;
        scales(sheet, &axis, (HEAD + SECTION - 2.0, floor))?;
        if let Some(stack) = stacks.iter().flatten().next() {
            section(sheet, stack, &axis)?;
        }
        for (row, ((k, _), stack)) in runs.iter().copied().zip(&stacks).enumerate() {
            let top = HEAD + SECTION + tall * row as f64 + if sheet.narrow() { 20.0 } else { 0.0 };
            let set = Type::LABEL.side(1);
            sheet.of(Some(k), || {
                if sheet.narrow() {
                    let set = Type::LABEL.bold(true);
                    let words = fit(&chosen.name(k), set, sheet.width - 2.0 * SIDE - 8.0)?;
                    sheet.on_paper(&words, (SIDE + 8.0, top - 6.0), set)?;
                } else {
                    let words = fit(&chosen.name(k), set, NAMES - 20.0)?;
                    sheet.text(&words, (SIDE + NAMES - 14.0, top + 0.5 * ROW), set)?;
                }
                if let Some(stack) = stack {
                    bars(sheet, stack, &axis, top)
                } else {
                    let set = Type::LABEL.ink(QUIET);
                    sheet.text("the record lacks a size", (ends(sheet).0, top + 0.5 * ROW), set)
                }
            })?;
        }
        Ok(())
    })
}

/// Scale in mm below the bars, in thou above.
fn scales(sheet: &Sheet<'_>, axis: &Axis, (top, bottom): (f64, f64)) -> Result<(), DrawError> {
    let ticks = apart(axis, Type::TICK, 8)?;
    ruler::below(sheet, axis, &ticks, bottom, Some(top), "distance from the sprocket's face, mm")?;
    let (thou, ends) = (axis.in_unit(|mm| mm * THOU), axis.ends());
    sheet.line(&[(ends.0, top), (ends.1, top)], TEXT, 0.9, None)?;
    for (value, words) in apart(&thou, Type::TICK, 8)? {
        let at = thou.at(value);
        sheet.line(&[(at, top), (at, top - 4.0)], TEXT, 0.9, None)?;
        sheet.text(&words, (at, top - 12.0), Type::TICK.side(0))?;
    }
    sheet.text("thou", (f64::midpoint(ends.0, ends.1), top - 28.0), Type::LABEL.side(0))
}

/// A part of the section with its label.
fn block(sheet: &Sheet<'_>, (from, to): (Place, Place), ink: Ink, opacity: f64) -> Result<(), DrawError> {
    let outline = [from, (to.0, from.1), to, (from.0, to.1)];
    sheet.shape(&outline, ink, opacity)?;
    sheet.outline(&outline, TEXT, 0.8)
}

/// The stack along the shaft.
fn section(sheet: &Sheet<'_>, stack: &Stack, axis: &Axis) -> Result<(), DrawError> {
    let (top, bottom) = (HEAD + 12.0, HEAD + SECTION - 52.0);
    let at = |mm: f64| axis.at(mm);
    let (face, proud, gap) = (at(0.0), at(stack.proud), at(stack.gap()));
    let step = 0.42 * (bottom - top);
    block(sheet, ((face - 46.0, top), (face, bottom)), QUIET, 0.35)?;
    let bushing = ((face - 46.0, bottom - step), (proud, bottom));
    sheet
        .says(&format!("bushing, proud {}", both(stack.proud)), || block(sheet, bushing, colour(hues::BUSHING), 0.3))?;
    let washer = ((proud, bottom - step - 12.0), (gap, bottom));
    sheet.says(&format!("washer {}", both(stack.washer)), || block(sheet, washer, colour(hues::WASHER), 0.6))?;
    block(sheet, ((gap, top), (gap + 34.0, bottom)), QUIET, 0.35)?;
    let set = Type::LABEL;
    sheet.text("sprocket", (face - 52.0, top + 14.0), set.side(1))?;
    sheet.text("bushing", (face - 52.0, bottom - 0.5 * step), set.side(1))?;
    sheet.text("cover", (gap + 42.0, top + 14.0), set)?;
    let words = format!("washer {}", both(stack.washer));
    if sheet.narrow() {
        let over = bottom - step - 24.0;
        sheet.line(
            &[(0.5 * (proud + gap), bottom - step - 4.0), (0.5 * (proud + gap), over + 7.0)],
            TEXT,
            0.7,
            None,
        )?;
        sheet.text(&words, (gap - 4.0, over), set.side(1))?;
        for (k, words) in
            [format!("proud {:.2} mm", stack.proud), format!("({:.0} thou)", stack.proud * THOU)].iter().enumerate()
        {
            sheet.text(words, (0.5 * (face + proud), bottom - 0.5 * step + 16.0 * (k as f64 - 0.5)), set.side(0))?;
        }
        arrow(sheet, (face, top + 22.0), (gap, top + 22.0))?;
        return sheet.text(&format!("gap {}", both(stack.gap())), (0.5 * (face + gap), top + 11.0), set.side(0));
    }
    sheet.line(&[(0.5 * (proud + gap), bottom - 10.0), (gap + 40.0, bottom - 10.0)], TEXT, 0.7, None)?;
    sheet.text(&words, (gap + 44.0, bottom - 10.0), set)?;
    sheet.text(
        &fit(&format!("proud {}", both(stack.proud)), set, proud - face - 8.0)?,
        (0.5 * (face + proud), bottom - 0.5 * step),
        set.side(0),
    )?;
    let height = top + 22.0;
    arrow(sheet, (face, height), (gap, height))?;
    let words = format!("gap {} nominal", both(stack.gap()));
    sheet.text(&fit(&words, set, gap - face - 16.0)?, (0.5 * (face + gap), height - 11.0), set.side(0))
}

/// A line with an arrowhead at each end.
fn arrow(sheet: &Sheet<'_>, from: Place, to: Place) -> Result<(), DrawError> {
    sheet.line(&[from, to], TEXT, 0.9, None)?;
    for (tip, back) in [(from, 7.0), (to, -7.0)] {
        sheet.shape(&[tip, (tip.0 + back, tip.1 - 3.0), (tip.0 + back, tip.1 + 3.0)], TEXT, 1.0)?;
    }
    Ok(())
}

/// The gap at the start with its tolerances, and at the end of the run.
fn bars(sheet: &Sheet<'_>, stack: &Stack, axis: &Axis, top: f64) -> Result<(), DrawError> {
    let (start, end) = (top + 18.0, top + 44.0);
    let washer = (stack.washer - stack.wear).max(0.0);
    let bushing = (stack.gap() - stack.wear - washer).max(0.0);
    for (middle, proud, washer) in [(start, stack.proud, stack.washer), (end, bushing, washer)] {
        let (a, b, c) = (axis.at(0.0), axis.within(proud), axis.within(proud + washer));
        let bar = |from: f64, to: f64| Frame::between((from, middle - 7.0), (to, middle + 7.0));
        sheet
            .says(&format!("bushing, proud {}", both(proud)), || sheet.block(bar(a, b), colour(hues::BUSHING), 0.55))?;
        sheet.says(&format!("washer {}", both(washer)), || sheet.block(bar(b, c), colour(hues::WASHER), 0.6))?;
    }
    let gap = stack.gap();
    for (reach, width) in [(stack.worst(), 1.0), (stack.rss(), 3.0)] {
        sheet.line(&[(axis.within(gap - reach), start), (axis.within(gap + reach), start)], TEXT, width, None)?;
    }
    for reach in [-stack.worst(), stack.worst()] {
        let at = axis.within(gap + reach);
        sheet.line(&[(at, start - 5.0), (at, start + 5.0)], TEXT, 1.0, None)?;
    }
    if let Some(least) = stack.least.filter(|least| axis.holds(*least)) {
        let at = axis.at(least);
        sheet.line(&[(at, top + 4.0), (at, top + ROW - 6.0)], QUIET, 1.1, LIMIT_DASH)?;
        sheet.text("least", (at + 4.0, top + 31.0), Type::TICK.ink(QUIET))?;
    }
    let set = Type::TICK;
    let right = ends(sheet).1 + 10.0;
    // After a short run two decimal places would show no wear.
    let left_over = if stack.wear < 0.01 {
        format!("end {:.1} µm less", 1e3 * stack.wear)
    } else {
        format!("end {}", both(gap - stack.wear))
    };
    let worst = format!("±{:.2} worst, ±{:.2} RSS", stack.worst(), stack.rss());
    if sheet.narrow() {
        for (k, words) in [format!("start {}", both(gap)), worst, left_over].iter().enumerate() {
            sheet.on_paper(words, (SIDE + 8.0, top + 62.0 + 16.0 * k as f64), set)?;
        }
        return Ok(());
    }
    for (words, at) in [(format!("start {}", both(gap)), start - 6.0), (worst, start + 7.0), (left_over, end)] {
        sheet.fitted(&words, (right, at), set, VALUES)?;
    }
    Ok(())
}
