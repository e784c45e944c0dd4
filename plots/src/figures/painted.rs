//! A section painted in the colours of its temperatures at a moment.

use crate::figures::moment;
use crate::figures::section::{Piece, Section, State};
use crate::sheet::prelude::*;
use crate::words::reading::{celsius, fahrenheit};
use slipsoak_engine::names::Channel;
use slipsoak_engine::record::{Moment, Run};
use std::borrow::Cow;

/// Colours of oil in the bushing and of its pale background.
pub const OIL: Ink = Ink::Exact(24, 70, 104);
const GROUND: Ink = Ink::Exact(250, 250, 246);

/// A moment of a run and its section.
pub struct Painted<'a> {
    pub moment: Cow<'a, Moment>,
    pub section: Section,
    /// what the moment is
    pub words: String,
}

/// Range of temperatures of the ramp's ends, °C.
pub type Scale = (f64, f64);

impl<'a> Painted<'a> {
    /// The section of a run at a moment; none if the record lacks a size or a channel.
    pub fn of(run: &Run, moment: Cow<'a, Moment>, words: String) -> Option<Self> {
        let of = |channel: Channel| channel.of(&moment.values);
        let state = State {
            out: of(Channel::MotorSpeed) > of(Channel::Engagement),
            lining_wear: of(Channel::LiningWear),
            washer_wear: of(Channel::WasherWear),
        };
        let section = Section::of(run, state).filter(|_| moment.values.len() == Channel::COUNT)?;
        Some(Self { moment, section, words })
    }

    /// The sections of a run at the times asked for.
    pub fn asked(run: &Run, look: &Look) -> Vec<Painted<'static>> {
        let one = |when| Painted::of(run, Cow::Owned(moment::at(run, when)?), moment::said(when));
        look.at.iter().filter_map(|when| one(*when)).collect()
    }

    /// A channel at the moment, SI.
    pub fn value(&self, channel: Channel) -> f64 {
        channel.of(&self.moment.values)
    }

    /// Temperature of a part, °C.
    pub fn temperature(&self, piece: &Piece) -> Option<f64> {
        Some(celsius(piece.channel?.of(&self.moment.values)))
    }

    /// Temperatures of all parts, °C.
    pub fn temperatures(&self) -> impl Iterator<Item = f64> {
        self.section.pieces.iter().filter_map(|piece| self.temperature(piece))
    }

    /// Position on a sheet of a point of the section at this scale, px per m, its left end and the shaft's axis at a place.
    pub fn on_sheet(&self, (left, axis): Place, per: f64) -> impl Fn((f64, f64)) -> Place + use<> {
        let start = self.section.span.0;
        move |(x, r)| (left + (x - start) * per, axis - r * per)
    }

    /// Paints the parts, the oil strip of the bushing and the shaft's axis.
    pub fn paint(
        &self,
        sheet: &Sheet<'_>,
        place: &impl Fn((f64, f64)) -> Place,
        scale: Scale,
    ) -> Result<(), DrawError> {
        for piece in &self.section.pieces {
            let outline: Vec<Place> = piece.outline.iter().map(|p| place(*p)).collect();
            let share = self.temperature(piece).filter(|t| t.is_finite()).map(|t| (t - scale.0) / (scale.1 - scale.0));
            let said = match share {
                Some(_) => format!("{} {}", piece.name, with_unit(self.temperature(piece).unwrap_or(f64::NAN))),
                None => piece.name.to_owned(),
            };
            sheet.says(&said, || sheet.shape(&outline, share.map_or(FAINT, ramp), 1.0))?;
            sheet.outline(&outline, TEXT, 0.7)?;
        }
        let fill = self.value(Channel::OilFill);
        let (from, to) = (place(self.section.oil.0), place(self.section.oil.1));
        let box_of = |right: f64| [from, (right, from.1), (right, to.1), (from.0, to.1)];
        sheet.shape(&box_of(to.0), GROUND, 1.0)?;
        if fill.is_finite() {
            let said = format!("oil in the pores {:.0} %", 100.0 * fill);
            let filled = box_of(from.0 + fill.clamp(0.0, 1.0) * (to.0 - from.0));
            sheet.says(&said, || sheet.shape(&filled, OIL, 1.0))?;
        }
        sheet.outline(&box_of(to.0), TEXT, 0.5)?;
        let (start, end) = (place((self.section.span.0, 0.0)), place((self.section.span.1, 0.0)));
        sheet.line(&[(start.0 - 4.0, start.1), (end.0 + 6.0, start.1)], TEXT, 0.8, Some((12.0, 3.0)))
    }
}

/// Temperature scale for all parts of all sections, °C, with round limits.
pub fn scale<'a>(all: impl Iterator<Item = &'a Painted<'a>>) -> Scale {
    let (low, high) = extent(all.flat_map(|painted| painted.temperatures().collect::<Vec<_>>()));
    if low > high { (0.0, 100.0) } else { rounded((low, high.max(low + 10.0)), 6.0) }
}

/// Height of the colour bar, px.
pub const BAR: f64 = 62.0;

/// Temperature scale across the sheet below this height: °C above, °F below.
pub fn colour_bar(sheet: &Sheet<'_>, range: Scale, over: f64) -> Result<(), DrawError> {
    let (left, right) = if sheet.narrow() {
        (SIDE + 36.0, sheet.width - SIDE - 58.0)
    } else {
        (SIDE + 120.0, (sheet.width - SIDE - 24.0).min(SIDE + 640.0))
    };
    let (top, bottom) = (over + 18.0, over + 30.0);
    let axis = Axis::linear(range, (left, right));
    let share = axis.between((0.0, 1.0));
    colour_bar::draw(sheet, &axis, (top, bottom), false, |t| share.at(t))?;
    let set = Type::TICK;
    if !sheet.narrow() {
        sheet.text("temperature", (SIDE, over + 7.0), set)?;
    }
    sheet.text("cold", (left - 8.0, 0.5 * (top + bottom)), set.side(1))?;
    sheet.text("hot", (right + 8.0, 0.5 * (top + bottom)), set)?;
    for (scale, unit, line, words, alone) in [
        (axis, "°C", top - 4.0, top - 11.0, scales::celsius_only as fn(&str) -> String),
        (axis.in_unit(fahrenheit), "°F", bottom + 4.0, bottom + 12.0, scales::fahrenheit_only),
    ] {
        let edge = if line < top { top } else { bottom };
        for (value, tick) in apart(&scale, set, 8)? {
            let at = scale.at(value);
            sheet.line(&[(at, edge), (at, line)], TEXT, 0.8, None)?;
            sheet.text(&alone(&tick), (at, words), set.side(0))?;
        }
        sheet.text(&alone(unit), (right + 36.0, words), set)?;
    }
    Ok(())
}

/// A leader that is visible on pale and on dark parts.
pub fn leader(sheet: &Sheet<'_>, from: Place, to: Place) -> Result<(), DrawError> {
    sheet.line(&[from, to], PAPER.tint(0.6), 2.2, None)?;
    sheet.line(&[from, to], TEXT, 0.7, None)?;
    sheet.dot(from, 2.4, PAPER)?;
    sheet.dot(from, 1.6, TEXT)
}

/// A temperature from °C, with its unit.
pub fn with_unit(t: f64) -> String {
    scales::pair(&format!("{t:.0} °C"), &format!("{:.0} °F", fahrenheit(t)))
}

/// A temperature, °C, in both scales.
pub fn both(celsius: Option<f64>) -> String {
    match celsius {
        Some(t) if t.is_finite() => scales::pair(&number(t, 1.0), &number(fahrenheit(t), 1.0)),
        _ => "–".to_owned(),
    }
}
