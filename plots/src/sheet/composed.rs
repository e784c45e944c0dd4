//! A whole figure: its heading, what is drawn below it, and its note.

use crate::sheet::canvas::{FINE, FOOT, HEAD, SIDE, Sheet};
use crate::sheet::draw_error::DrawError;
use crate::sheet::drawing::{Drawing, Note};
use crate::sheet::lettering::{Type, plain, wrapped, wrapped_in_both};
use crate::sheet::look::Look;
use crate::sheet::mark::{Ground, Mark};
use crate::sheet::palette::{FAINT, QUIET};
use crate::sheet::scales;
use std::cell::RefCell;

/// Line spacing of a heading, px, and its largest number of lines.
const TITLE: f64 = 22.0;
const LINES: usize = 8;
/// Height at the top that a sheet without a heading does not need, px.
const UNTITLED: i32 = 32;
/// Smallest height of a sheet, px.
const LEAST: f64 = 240.0;

/// Draws on a sheet of this height, px, or a little more, with a heading above and a note below; the description is for
/// readers who do not see it.
pub fn sheet(
    look: &Look,
    height: f64,
    [heading, note, describe]: [&str; 3],
    paint: impl FnOnce(&Sheet<'_>) -> Result<(), DrawError>,
) -> Result<Drawing, DrawError> {
    let (width, height) = (look.width() as u32, height.max(LEAST).ceil() as u32);
    if look.size.width < 320 || width > 10_000 || height > 30_000 {
        return Err(DrawError::Size { width: look.size.width, height });
    }
    let foot = Type::TICK.ink(QUIET);
    // A title that is asked for stands alone; without a title or a caption there is no room for them either.
    let titled = look.title.as_deref().unwrap_or(heading);
    let noted = look.caption.as_deref() != Some("");
    let lines = wrapped(if noted { note } else { "" }, foot, f64::from(width) - 2.0 * SIDE)?;
    let asked = f64::from(height);
    let height = height + 17 * lines.len().saturating_sub(2) as u32;
    let title = Type::TITLE;
    let mut headings = wrapped_in_both(titled, title, f64::from(width) - 2.0 * SIDE)?;
    if headings.len() > LINES {
        headings.truncate(LINES);
        headings[LINES - 1].push('…');
    }
    // Further lines of a long heading are placed above the sheet, whose positions do not change; without one it begins lower.
    let over =
        if look.title.as_deref() == Some("") { -UNTITLED } else { TITLE as i32 * (headings.len() as i32 - 1).max(0) };
    let under = if noted { 0 } else { FOOT as u32 - SIDE as u32 };
    let fine = FINE as u32;
    let marks = RefCell::new(vec![]);
    let from;
    {
        let page = Sheet::on(&marks, (width, asked, height), look.narrow());
        for (k, line) in headings.iter().rev().enumerate() {
            page.fitted(line, (SIDE, 0.52 * HEAD - TITLE * k as f64), title, page.width - 2.0 * SIDE)?;
        }
        paint(&page)?;
        from = marks.borrow().len();
        let rule = page.height - FOOT;
        if noted {
            page.line(&[(SIDE, rule), (page.width - SIDE, rule)], FAINT, 0.8, None)?;
        }
        for (k, line) in lines.iter().enumerate() {
            page.fitted(line, (SIDE, rule + 14.0 + 17.0 * k as f64), foot, page.width - 2.0 * SIDE)?;
        }
    }
    let ground = |height: u32| {
        let (tall, wide) = (height.saturating_add_signed(over), look.size.width);
        let high = (f64::from(tall * wide) / f64::from(width)).round() as u32;
        Ground { size: (width * fine, tall * fine), above: over * fine as i32, shown: (wide, high) }
    };
    let of_scale = |words: &str| {
        if look.fahrenheit { scales::in_fahrenheit(words) } else { words.to_owned() }
    };
    let said = |words: &str| plain(&scales::shown(&of_scale(&format!("{describe} {words}"))));
    // What follows its first line is the source of the numbers, which a page gives once.
    let own = note.lines().next().unwrap_or_default();
    let texts = [plain(&scales::both(&of_scale(if titled.is_empty() { heading } else { titled }))), said(note)];
    let caption = plain(&scales::both(&format!("{describe} {own}")));
    let note = Note { words: caption, from, above: ground((asked - FOOT) as u32) };
    let mut marks = marks.into_inner();
    for mark in &mut marks {
        match mark {
            Mark::Text { words, .. } | Mark::Says(words) => *words = of_scale(words),
            Mark::Places(all) => all.iter_mut().for_each(|(_, words)| *words = of_scale(words)),
            _ => {}
        }
    }
    Ok(Drawing::new(marks, ground(height - under), look.theme, texts, note))
}
