//! One chart: curves over a horizontal axis, limits, and labels at the curves' ends.

use crate::DrawError;
use crate::canvas::{Area, FINE, px, refused, text};
use crate::look::{FAINT, INK, LIMIT, colour, dash};
use plotters::prelude::*;

/// A curve with its place in the order of colours.
pub struct Curve {
    pub label: String,
    pub order: usize,
    pub points: Vec<(f64, f64)>,
    /// least and greatest around the curve, at the same places
    pub band: Vec<(f64, f64, f64)>,
    pub heavy: bool,
}

/// A limit drawn across the chart.
pub struct Limit {
    pub label: String,
    pub at: f64,
}

/// A chart of curves.
pub struct Panel<'a> {
    pub heading: String,
    pub across: String,
    pub up: String,
    pub x: (f64, f64),
    pub y: (f64, f64),
    pub curves: Vec<Curve>,
    pub limits: Vec<Limit>,
    pub format_up: &'a dyn Fn(&f64) -> String,
    /// room for labels at the right, px
    pub margin: u32,
}

const LINE: i32 = 13 * FINE as i32;

impl Panel<'_> {
    pub fn draw(&self, area: &Area<'_>) -> Result<(), DrawError> {
        let mut chart = ChartBuilder::on(area)
            .margin_top(px(26))
            .margin_right(px(self.margin))
            .margin_left(px(6))
            .margin_bottom(px(4))
            .x_label_area_size(px(38))
            .y_label_area_size(px(74))
            .build_cartesian_2d(self.x.0..self.x.1, self.y.0..self.y.1)
            .map_err(refused)?;
        let letters = |size: u32| ("sans-serif", f64::from(size * FINE)).into_font().color(&INK);
        chart
            .configure_mesh()
            .disable_x_mesh()
            .light_line_style(TRANSPARENT)
            .bold_line_style(ShapeStyle::from(&FAINT).stroke_width(FINE / 2))
            .axis_style(ShapeStyle::from(&INK).stroke_width(FINE))
            .set_all_tick_mark_size(px(4))
            .x_labels(7)
            .y_labels(6)
            .label_style(letters(11))
            .axis_desc_style(letters(12))
            .x_desc(&self.across)
            .y_desc(&self.up)
            .x_label_formatter(&|x| if x.fract() == 0.0 { format!("{x:.0}") } else { format!("{x:.1}") })
            .y_label_formatter(self.format_up)
            .draw()
            .map_err(refused)?;
        let inside = |y: f64| y.clamp(self.y.0, self.y.1);
        for c in self.curves.iter().filter(|c| !c.band.is_empty()) {
            let edge = c.band.iter().map(|b| (b.0, inside(b.2))).chain(c.band.iter().rev().map(|b| (b.0, inside(b.1))));
            chart.draw_series([Polygon::new(edge.collect::<Vec<_>>(), colour(c.order).mix(0.15))]).map_err(refused)?;
        }
        for l in self.limits.iter().filter(|l| l.at > self.y.0 && l.at < self.y.1) {
            let line = [(self.x.0, l.at), (self.x.1, l.at)];
            let style = ShapeStyle::from(&LIMIT).stroke_width(FINE);
            chart.draw_series(DashedLineSeries::new(line, 4 * FINE, 4 * FINE, style)).map_err(refused)?;
        }
        for c in &self.curves {
            let style = ShapeStyle::from(&colour(c.order)).stroke_width(if c.heavy { 25 } else { 17 });
            let points = c.points.iter().filter(|p| p.1.is_finite()).map(|p| (p.0, inside(p.1)));
            match dash(c.order) {
                None => chart.draw_series(LineSeries::new(points, style)).map(drop),
                Some((on, off)) => {
                    chart.draw_series(DashedLineSeries::new(points, on * FINE, off * FINE, style)).map(drop)
                }
            }
            .map_err(refused)?;
        }
        let (corner, _) = area.get_base_pixel();
        let base = area.get_base_pixel();
        let place = |x: f64, y: f64| {
            let at = chart.backend_coord(&(x, inside(y)));
            (at.0 - corner, at.1 - base.1)
        };
        let (width, _) = area.dim_in_pixel();
        text(area, &self.heading, (px(80), px(12)), 13, -1, INK)?;
        let mut labels: Vec<(i32, &str, u32, RGBColor)> = self
            .curves
            .iter()
            .filter_map(|c| c.points.last().map(|p| (c, p.1)))
            .map(|(c, y)| (place(self.x.1, y).1, c.label.as_str(), if c.heavy { 12 } else { 11 }, colour(c.order)))
            .collect();
        let limits = self.limits.iter().filter(|l| l.at > self.y.0 && l.at < self.y.1);
        labels.extend(limits.map(|l| (place(self.x.1, l.at).1, l.label.as_str(), 10, LIMIT)));
        labels.sort_by_key(|l| l.0);
        let right = width as i32 - px(self.margin) + px(6);
        let (top, bottom) = (place(self.x.0, self.y.1).1, place(self.x.0, self.y.0).1);
        for k in 1..labels.len() {
            labels[k].0 = labels[k].0.max(labels[k - 1].0 + LINE);
        }
        let overrun = labels.last().map_or(0, |l| (l.0 - bottom).max(0));
        if overrun > 0 {
            let mut ceiling = bottom;
            for l in labels.iter_mut().rev() {
                l.0 = l.0.min(ceiling).max(top);
                ceiling = l.0 - LINE;
            }
        }
        for (y, label, size, ink) in labels {
            text(area, label, (right, y), size, -1, ink)?;
        }
        Ok(())
    }
}

/// The axis end above the greatest value, on a round number.
pub fn above(most: f64, step: f64) -> f64 {
    ((most / step).floor() + 1.0) * step
}
