//! Rows below the chart of the engagement: how far over the idle each curve meets the axis, and where it locks.

use crate::figures::shared_curves::Spring;
use crate::sheet::prelude::*;
use slipsoak_engine::parts::settings::{motor, vehicle};
use slipsoak_engine::record::Run;
use slipsoak_engine::units::in_rpm;

/// Height of a row, and of one among many, px.
const ROW: f64 = 21.0;
const CLOSE: f64 = 16.5;
const MANY: usize = 16;
/// Distance of a text from its dot, px.
const APART: f64 = 9.0;

/// A clutch with what its row says.
struct Foot<'a, 'b> {
    spring: &'b Spring<'a>,
    /// speeds of engagement, of the idle, and of locking, rpm
    engages: Option<f64>,
    idle: Option<f64>,
    locks: Option<f64>,
}

impl<'a, 'b> Foot<'a, 'b> {
    fn of(spring: &'b Spring<'a>) -> Self {
        let run = spring.run;
        let idle = run.setting(&motor::idle).map(in_rpm);
        Self { spring, engages: run.engages().map(in_rpm), idle, locks: spring.table.balance.map(in_rpm) }
    }

    /// Distance from the idle in words.
    fn over(&self, narrow: bool) -> String {
        let (Some(engages), Some(idle)) = (self.engages, self.idle) else { return "engagement not known".to_owned() };
        let always = if engages <= 0.0 { "always engaged, " } else { "" };
        match (engages - idle).round() {
            0.0 => "at the idle".to_owned(),
            over if over > 0.0 => format!("+{}{}", number(over, 1.0), if narrow { "" } else { " rpm over idle" }),
            below if narrow => format!("{always}{}", number(below, 1.0)),
            below => format!("{always}{} rpm below idle", number(-below, 1.0)),
        }
    }

    /// Where it locks, in words.
    fn locks(&self) -> String {
        let Some(locks) = self.locks else { return "never locks".to_owned() };
        format!("locks at {} rpm", number(locks, 1.0))
    }
}

/// Road speed per speed of the motor without slip, m/s per rpm.
pub(super) fn road_speed_of(run: &Run) -> Option<f64> {
    let per = run.setting(&vehicle::wheel_radius)? / run.setting(&vehicle::ratio)?;
    Some(per / in_rpm(1.0)).filter(|per| per.is_finite() && *per > 0.0)
}

/// Height of the rows, px.
pub(super) fn height(springs: &[Spring<'_>]) -> f64 {
    let row = if springs.len() > MANY { CLOSE } else { ROW };
    row * springs.len() as f64 + 8.0
}

/// Draws the rows below the chart's floor, the highest engagement first, so that no curve's foot crosses another's name.
pub(super) fn draw(sheet: &Sheet<'_>, springs: &[Spring<'_>], x: &Axis, floor: f64) -> Result<(), DrawError> {
    let mut feet: Vec<Foot<'_, '_>> = springs.iter().map(Foot::of).collect();
    feet.sort_by(|a, b| b.engages.unwrap_or(0.0).total_cmp(&a.engages.unwrap_or(0.0)));
    let row = if springs.len() > MANY { CLOSE } else { ROW };
    for (k, foot) in feet.iter().enumerate() {
        let y = floor + 4.0 + row * (k as f64 + 0.5);
        sheet.of(foot.spring.of, || one(sheet, foot, springs.len() > 1, x, (floor, y)))?;
    }
    Ok(())
}

/// The row of a clutch: its distance from the idle as a line, beside its foot its name if it is one of several, and where it locks.
fn one(sheet: &Sheet<'_>, foot: &Foot<'_, '_>, named: bool, x: &Axis, (floor, y): (f64, f64)) -> Result<(), DrawError> {
    let hue = foot.spring.hue;
    let name = &foot.spring.name;
    let at = x.within(foot.engages.or(foot.idle).unwrap_or(0.0));
    let (start, end) = x.ends();
    let over = foot.over(sheet.narrow());
    let lock = foot.locks();
    let said = format!("{name}: engages at {} rpm, {over}; {lock}", number(foot.engages.unwrap_or(0.0), 1.0));
    let set = Type::LABEL.ink(hue.ink);
    let lock_room = if sheet.narrow() { 0.0 } else { width_of(&lock, Type::TICK)? + APART };
    let distance = width_of(&if named { format!(", {over}") } else { over.clone() }, set)?;
    // A narrow sheet gives the rows its whole width.
    let (start, end) = if sheet.narrow() { (SIDE, sheet.width - SIDE) } else { (start, end) };
    let (right, left) = (end - lock_room - at - APART, at - APART - start);
    // Away from the idle where there is room for all of it, or else where there is more.
    let below = foot.engages.zip(foot.idle).is_some_and(|(engages, idle)| engages < idle);
    let [first, other] = if below { [(1, left), (-1, right)] } else { [(-1, right), (1, left)] };
    let whole = if named { width_of(name, set)? + distance } else { distance };
    let (side, room) = if whole <= first.1 || first.1 >= other.1 { first } else { other };
    let words = if named { format!("{}, {over}", fit_name(name, set, (room - distance).max(24.0))?) } else { over };
    let place = if side < 0 { at + APART } else { at - APART };
    // The line to the idle stops where the name begins.
    let near = if below == (side > 0) { at } else { place - f64::from(side) * (width_of(&words, set)? + 4.0) };
    sheet.says(&said, || {
        let idle = foot.idle.map(|idle| x.within(idle));
        if let Some(idle) = idle.filter(|idle| (near - idle) * (at - idle) > 0.0) {
            sheet.line(&[(idle, y), (near, y)], hue.ink, 1.6, None)?;
        }
        sheet.line(&[(at, floor), (at, y)], hue.ink.tint(0.6), 0.9, None)?;
        sheet.dot((at, y), 3.4, hue.ink)
    })?;
    if side > 0 {
        sheet.on_paper(&words, (place, y), set.side(side))?;
    } else {
        sheet.text(&words, (place, y), set)?;
    }
    if sheet.narrow() {
        return Ok(());
    }
    sheet.text(&lock, (end - 4.0, y), Type::TICK.ink(QUIET).side(1))
}
