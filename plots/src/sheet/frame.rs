//! Positions and rectangles on the sheet.

/// A position, px.
pub type Place = (f64, f64);

/// A rectangle on the sheet, px.
#[derive(Clone, Copy)]
pub struct Frame {
    pub left: f64,
    pub top: f64,
    pub right: f64,
    pub bottom: f64,
}

impl Frame {
    /// The rectangle between two opposite corners.
    pub fn between(from: Place, to: Place) -> Self {
        Self { left: from.0, top: from.1, right: to.0, bottom: to.1 }
    }

    /// Its width, px.
    pub fn wide(self) -> f64 {
        self.right - self.left
    }

    /// Its middle.
    pub fn middle(self) -> Place {
        (f64::midpoint(self.left, self.right), f64::midpoint(self.top, self.bottom))
    }

    /// Its corners in order.
    pub fn corners(self) -> [Place; 4] {
        [(self.left, self.top), (self.right, self.top), (self.right, self.bottom), (self.left, self.bottom)]
    }

    /// Equal cells in rows and columns, row by row.
    pub fn split(self, rows: usize, columns: usize) -> Vec<Self> {
        let wide = self.wide() / columns as f64;
        let high = (self.bottom - self.top) / rows as f64;
        let part = |k: usize| {
            let (left, top) = (self.left + wide * (k % columns) as f64, self.top + high * (k / columns) as f64);
            Self { left, top, right: left + wide, bottom: top + high }
        };
        (0..rows * columns).map(part).collect()
    }
}
