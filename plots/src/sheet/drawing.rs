//! A finished drawing: SVG text, and a PNG of the same marks with the embedded font only.

use crate::sheet::draw_error::DrawError;
use crate::sheet::mark::{Ground, Mark};
use crate::sheet::raster;
use crate::sheet::tone::Theme;
use crate::sheet::vector::Medium::{InPage, Whole};

/// A figure as SVG.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Drawing {
    /// the whole SVG document, with temperatures in °C and °F
    pub svg: String,
    /// what it consists of
    marks: Vec<Mark>,
    ground: Ground,
    theme: Theme,
    /// title and description
    texts: [String; 2],
    note: Note,
    /// the same for a narrow window
    narrow: Option<Box<Self>>,
}

/// The note at the foot of a drawing, of which a page makes its caption.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Note {
    /// the drawing's description and what the note says, without the source of the numbers
    pub words: String,
    /// its marks are those from this one
    pub from: usize,
    /// ground above it
    pub above: Ground,
}

impl Drawing {
    /// A drawing of marks with a title and a description.
    pub(crate) fn new(marks: Vec<Mark>, ground: Ground, theme: Theme, texts: [String; 2], note: Note) -> Self {
        let svg = Whole.document(&marks, &ground, theme, [&texts[0], &texts[1]]);
        Self { svg, marks, ground, theme, texts, note, narrow: None }
    }

    /// The SVG for a page: the page shows one of the scales of temperature, chooses the colours, and has the note as caption.
    pub(crate) fn for_page(&self) -> String {
        if self.marks.is_empty() {
            return self.svg.clone();
        }
        InPage.document(&self.marks[..self.note.from], &self.note.above, self.theme, [&self.texts[0], ""])
    }

    /// Its title.
    pub(crate) fn title(&self) -> &str {
        &self.texts[0]
    }

    /// Its caption in a page: what it shows, and its note.
    pub(crate) fn caption(&self) -> &str {
        &self.note.words
    }

    /// The drawing with the same for a narrow window.
    #[must_use]
    pub(crate) fn or(self, narrow: Option<Self>) -> Self {
        Self { narrow: narrow.map(Box::new), ..self }
    }

    /// The same for a narrow window.
    pub(crate) fn narrow(&self) -> Option<&Self> {
        self.narrow.as_deref()
    }

    /// An SVG document as a drawing for a page; as PNG it is nothing.
    pub fn of(svg: &str) -> Self {
        let [title, about] = ["title", "desc"].map(|name| element(svg, name));
        let note = Note { words: about.clone(), ..Note::default() };
        Self { svg: svg.to_owned(), texts: [title, about], note, ..Self::default() }
    }

    /// The figure as PNG at twice its size.
    pub fn png(&self) -> Result<Vec<u8>, DrawError> {
        raster::png(&self.marks, &self.ground, self.theme)
    }
}

/// Text of the first element with this name, without escapes.
fn element(svg: &str, name: &str) -> String {
    let text = svg.split_once(&format!("<{name}>")).map_or("", |(_, rest)| rest.split("</").next().unwrap_or_default());
    text.replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", "\"").replace("&amp;", "&")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::canvas::Sheet;
    use crate::sheet::composed::sheet;
    use crate::sheet::draw_error::DrawError;
    use crate::sheet::font::Face;
    use crate::sheet::frame::Frame;
    use crate::sheet::lettering::Type;
    use crate::sheet::look::{Look, Size};
    use crate::sheet::palette::Ink;
    use crate::sheet::scales;

    const RED: Ink = Ink::Exact(200, 0, 0);

    /// Pixels of a PNG.
    struct Seen {
        wide: usize,
        pixels: Vec<u8>,
    }

    impl Seen {
        fn of(drawing: &Drawing) -> Self {
            let png = drawing.png().expect("a PNG");
            let mut reader = png::Decoder::new(std::io::Cursor::new(png)).read_info().expect("a PNG");
            let mut pixels = vec![0; reader.output_buffer_size().expect("a size")];
            let info = reader.next_frame(&mut pixels).expect("a PNG");
            Self { wide: info.width as usize, pixels }
        }

        /// Red, green and blue at a position, px.
        fn at(&self, x: f64, y: f64) -> [u8; 3] {
            let k = 3 * ((2.0 * y) as usize * self.wide + (2.0 * x) as usize);
            [self.pixels[k], self.pixels[k + 1], self.pixels[k + 2]]
        }

        /// Left, top, right and bottom of what is not paper in a frame, px.
        fn reach(&self, frame: Frame) -> [f64; 4] {
            let mut reach = [f64::INFINITY, f64::INFINITY, f64::NEG_INFINITY, f64::NEG_INFINITY];
            let half = |from: f64, to: f64| ((2.0 * from) as u32..(2.0 * to) as u32).map(|k| 0.5 * f64::from(k));
            for (x, y) in half(frame.left, frame.right).flat_map(|x| half(frame.top, frame.bottom).map(move |y| (x, y)))
            {
                if self.at(x, y) != [255; 3] {
                    reach = [reach[0].min(x), reach[1].min(y), reach[2].max(x + 0.5), reach[3].max(y + 0.5)];
                }
            }
            reach
        }
    }

    fn drawn(look: &Look, heading: &str, paint: impl FnOnce(&Sheet<'_>) -> Result<(), DrawError>) -> Drawing {
        sheet(look, 400.0, [heading, "", ""], paint).expect("it draws")
    }

    #[test]
    fn every_mark_is_painted_where_the_svg_says_and_in_its_colour() {
        let drawing = drawn(&Look::default(), "", |page| {
            page.bar((100.0, 60.0), (200.0, 110.0), RED)?;
            page.block(Frame::between((300.0, 60.0), (400.0, 110.0)), RED, 0.5)?;
            page.shape(&[(500.0, 60.0), (600.0, 60.0), (500.0, 110.0)], RED, 1.0)?;
            page.dot((650.0, 85.0), 10.0, RED)?;
            page.line(&[(100.0, 200.0), (140.0, 200.0), (140.0, 240.0)], RED, 4.0, Some((10.0, 5.0)))
        });
        for mark in [
            "<rect x=\"1000\" y=\"600\" width=\"1000\" height=\"500\" fill=\"#C80000\"",
            "<polygon points=\"3000,600 4000,600 4000,1100 3000,1100\" opacity=\"0.5\" fill=\"#C80000\"",
            "<circle cx=\"6500\" cy=\"850\" r=\"100\" fill=\"#C80000\"",
            "stroke-width=\"40\" stroke-dasharray=\"100 50\" points=\"1000,2000 1400,2000 1400,2400\" stroke=\"#C80000\"",
        ] {
            assert!(drawing.svg.contains(mark), "{mark} in {}", drawing.svg);
        }
        let seen = Seen::of(&drawing);
        let reach = |left: f64, right: f64| seen.reach(Frame { left, right, top: 50.0, bottom: 150.0 });
        assert_eq!(reach(50.0, 250.0), [100.0, 60.0, 200.0, 110.0]);
        assert_eq!(reach(620.0, 700.0), [640.0, 75.0, 660.0, 95.0]);
        // Half of a colour over white, by the compositing of SVG: 0.5 c + 0.5 × 255.
        let half = seen.at(350.0, 80.0);
        assert!(
            half.iter().zip([227.5, 127.5, 127.5]).all(|(c, want)| (f64::from(*c) - want).abs() <= 1.0),
            "{half:?}"
        );
        for (x, y, painted) in [
            (510.0, 70.0, true),
            (590.0, 100.0, false),
            // Dashes of 10 and gaps of 5 px from the start, around the corner 40 px from it.
            (105.0, 199.0, true),
            (112.0, 199.0, false),
            (120.0, 201.0, true),
            (127.0, 201.0, false),
            (141.0, 204.0, false),
            (141.0, 207.0, true),
            (141.0, 217.0, false),
            (144.0, 207.0, false),
        ] {
            let want = if painted { [200, 0, 0] } else { [255; 3] };
            assert_eq!(seen.at(x, y), want, "at {x}, {y}");
        }
    }

    #[test]
    fn a_text_is_painted_as_wide_as_it_is_measured_on_the_side_of_its_position_that_was_asked_for() {
        let (words, set) = ("HINHIM", Type::of(40.0));
        let wide = 40.0 * Face::of(false).expect("a face").width(words);
        let drawing = drawn(&Look::default(), "", |page| {
            page.text(words, (300.0, 80.0), set)?;
            page.text(words, (300.0, 140.0), set.side(0))?;
            page.text(words, (300.0, 200.0), set.side(1))?;
            page.text(words, (700.0, 200.0), set.upright())
        });
        let seen = Seen::of(&drawing);
        let of = |at: f64| seen.reach(Frame { left: 50.0, right: 600.0, top: at - 25.0, bottom: at + 25.0 });
        // The letters of this text stand upright at its ends, within a tenth of their size.
        for (at, from) in [(80.0, 300.0), (140.0, 300.0 - 0.5 * wide), (200.0, 300.0 - wide)] {
            let [left, top, right, bottom] = of(at);
            assert!((0.0..4.0).contains(&(left - from)), "{left} of {from}");
            assert!((0.0..4.0).contains(&(from + wide - right)), "{right} of {}", from + wide);
            // Capitals are 2048/2816 and small letters 1536/2816 of the size, by the typeface's own table.
            assert!((bottom - at - 20.0 * 1536.0 / 2816.0).abs() <= 0.5, "{bottom} at {at}");
            assert!((bottom - top - 40.0 * 2048.0 / 2816.0).abs() <= 1.0, "{top} to {bottom}");
        }
        let [left, top, right, bottom] = seen.reach(Frame { left: 650.0, right: 750.0, top: 60.0, bottom: 340.0 });
        assert!((right - left - 40.0 * 2048.0 / 2816.0).abs() <= 1.0, "{left} to {right}");
        assert!(
            (0.0..4.0).contains(&(200.0 + 0.5 * wide - bottom)) && (0.0..4.0).contains(&(top - 200.0 + 0.5 * wide))
        );
    }

    #[test]
    fn a_png_shows_the_scale_of_temperature_that_its_look_chose_and_no_sign_for_what_has_no_width() {
        let png = |words: &str, fahrenheit| {
            let look = Look { fahrenheit, ..Look::default() };
            drawn(&look, "", |page| page.text(words, (300.0, 80.0), Type::LABEL)).png().expect("a PNG")
        };
        let plain = png("300", false);
        for both in [scales::pair("300", "572"), scales::either("300", "572")] {
            assert_eq!(png(&both, false), plain);
            assert_eq!(png(&both, true), png("572", false));
        }
        assert_eq!(png("30\u{200d}0\u{fe0f}", false), plain);
        assert_ne!(png("30\u{6f22}0", false), plain);
    }

    #[test]
    fn a_long_heading_and_a_dark_ground_reach_the_top_of_the_png() {
        let look = Look { size: Size { width: 400, height: 400 }, theme: Theme::Dark, ..Look::default() };
        let drawing = drawn(&look, &"a heading of several lines ".repeat(5), |_| Ok(()));
        let seen = Seen::of(&drawing);
        assert_eq!(seen.wide, 800);
        assert_eq!(seen.at(0.0, 0.0), [23, 26, 30]);
        let lines = (0..100).filter(|y| (0..400).any(|x| seen.at(f64::from(x), f64::from(*y))[0] > 150));
        assert!(lines.clone().next().is_some_and(|y| (8..20).contains(&y)) && lines.count() > 30);
    }
}
