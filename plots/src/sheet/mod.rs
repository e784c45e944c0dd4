//! The sheet that figures are drawn on: canvas, axes, panels, colours, letters.

pub(crate) mod axis;
pub(crate) mod canvas;
pub(crate) mod colour_bar;
pub(crate) mod curve;
pub(crate) mod draw_error;
pub(crate) mod drawing;
pub(crate) mod fewer;
pub(crate) mod font;
pub(crate) mod frame;
pub(crate) mod hues;
pub(crate) mod label;
pub(crate) mod legend;
pub(crate) mod lettering;
pub(crate) mod look;
pub(crate) mod mark;
pub(crate) mod pad;
pub(crate) mod palette;
pub(crate) mod panel;
pub(crate) mod prelude;
pub(crate) mod ramp;
pub(crate) mod raster;
pub(crate) mod ruler;
pub(crate) mod scales;
pub(crate) mod vector;
pub(crate) mod when;
pub(crate) mod whisker;
