//! What every figure is drawn with.

pub(crate) use crate::sheet::axis::{Axis, extent, pieces, rounded, rounded_at_zero};
pub(crate) use crate::sheet::canvas::{FOOT, HEAD, SIDE, Sheet};
pub(crate) use crate::sheet::composed::sheet;
pub(crate) use crate::sheet::curve::Curve;
pub(crate) use crate::sheet::draw_error::DrawError;
pub(crate) use crate::sheet::drawing::Drawing;
pub(crate) use crate::sheet::frame::{Frame, Place};
pub(crate) use crate::sheet::hues::{self, Hue};
pub(crate) use crate::sheet::label::{self, Label, spread};
pub(crate) use crate::sheet::legend;
pub(crate) use crate::sheet::lettering::{Type, apart, bare_width, thinned, width_of, wrapped};
pub(crate) use crate::sheet::look::Look;
pub(crate) use crate::sheet::palette::{Dash, FAINT, Ink, LIMIT_DASH, PAPER, QUIET, TEXT, colour, dash, letters, ramp};
pub(crate) use crate::sheet::panel::{LEGEND, Limit, Panel, Upward};
pub(crate) use crate::sheet::short_names::{fit, fit_name, fit_names};
pub(crate) use crate::sheet::{colour_bar, ruler, scales, whisker};
pub(crate) use crate::words::number::number;
