//! The typeface. It is embedded in the program, so figures are the same on a machine without fonts.

use crate::sheet::draw_error::DrawError;
use plotters::style::{FontStyle, register_font};
use resvg::usvg::fontdb::Database;
use std::sync::{Arc, LazyLock};

/// Family named in the SVG; a browser substitutes its own sans-serif typeface.
pub const FAMILY: &str = "sans-serif";

/// Family that the embedded files carry.
const EMBEDDED: &str = "Figures";

/// The typeface that measures text and draws it in a PNG, plain and bold, its digits all of one width; `OFL.txt` beside it is
/// its licence.
const FACES: [(FontStyle, &[u8]); 2] = [
    (FontStyle::Normal, include_bytes!("typeface/regular.otf")),
    (FontStyle::Bold, include_bytes!("typeface/bold.otf")),
];

/// Registers the typeface with the drawing library, which measures text with it; once for the program.
pub fn register() -> Result<(), DrawError> {
    static USABLE: LazyLock<bool> =
        LazyLock::new(|| FACES.iter().all(|(style, face)| register_font(FAMILY, *style, face).is_ok()));
    if *USABLE { Ok(()) } else { Err(DrawError::Drawing("the embedded font is not usable".to_owned())) }
}

/// A font database with only this typeface, for the rasteriser.
pub fn database() -> Arc<Database> {
    let mut fonts = Database::new();
    for (_, face) in FACES {
        fonts.load_font_data(face.to_vec());
    }
    fonts.set_sans_serif_family(EMBEDDED);
    Arc::new(fonts)
}
