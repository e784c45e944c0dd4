//! Colour ramp for amounts: from pale straw over clay to dark plum, perceptually uniform and with steadily falling
//! lightness. On a dark background it is reversed, so that large amounts always stand out from the background and small
//! ones are close to it.
//!
//! The path is a curve of our own in Oklab (B. Ottosson, 2020), a colour space in which equal distances look equally
//! different. It is traversed at constant speed and only darkens, so that a grey print and a colour-blind reader show
//! the same order.

/// Ends and control point of the curve: lightness, towards red, towards yellow.
const CURVE: [[f64; 3]; 3] = [[0.97, 0.0, 0.03], [0.74, 0.10, 0.16], [0.32, 0.11, -0.01]];
/// Number of pieces for measuring the length of the curve.
const PIECES: usize = 200;

/// A point on the curve.
fn lab(t: f64) -> [f64; 3] {
    let [from, bend, to] = CURVE;
    [0, 1, 2].map(|k| (1.0 - t).powi(2) * from[k] + 2.0 * t * (1.0 - t) * bend[k] + t * t * to[k])
}

fn apart(a: [f64; 3], b: [f64; 3]) -> f64 {
    (0..3).map(|k| (a[k] - b[k]).powi(2)).sum::<f64>().sqrt()
}

/// The point at this share of the curve's length.
fn along(share: f64) -> [f64; 3] {
    let places: Vec<[f64; 3]> = (0..=PIECES).map(|k| lab(k as f64 / PIECES as f64)).collect();
    let lengths: Vec<f64> = places.windows(2).map(|pair| apart(pair[0], pair[1])).collect();
    let mut left = share.clamp(0.0, 1.0) * lengths.iter().sum::<f64>();
    for (k, length) in lengths.iter().enumerate() {
        if left <= *length {
            return lab((k as f64 + left / length) / PIECES as f64);
        }
        left -= length;
    }
    lab(1.0)
}

/// Red, green and blue of an amount on a light ground.
pub fn colour(share: f64) -> [u8; 3] {
    shown(along(share))
}

/// Ends and control point of the curve of ranks on a light background.
const RANKS: [[f64; 3]; 3] = [[0.32, 0.0, -0.14], [0.49, -0.13, -0.02], [0.63, 0.01, 0.125]];
/// Lightness at its ends on a dark background.
const RANKS_ON_DARK: [f64; 2] = [0.64, 0.92];
/// Greatest lightness of letters on a light background.
const READABLE: f64 = 0.555;

/// The ramp of ranks on a background, for lines or for words: red, green and blue of a rank from 0 to 1.
pub fn rank(dark: bool, words: bool) -> impl Fn(f64) -> [u8; 3] + Copy {
    move |share| {
        let t = share.clamp(0.0, 1.0);
        let [from, bend, to] = RANKS;
        let [l, a, b] = [0, 1, 2].map(|k| (1.0 - t).powi(2) * from[k] + 2.0 * t * (1.0 - t) * bend[k] + t * t * to[k]);
        let l = match (dark, words) {
            (true, _) => RANKS_ON_DARK[0] + t * (RANKS_ON_DARK[1] - RANKS_ON_DARK[0]),
            (false, true) => l.min(READABLE),
            (false, false) => l,
        };
        // Pale colours have less room for saturation.
        let faint = if dark {
            0.85
        } else if words {
            0.9
        } else {
            1.0
        };
        shown([l, faint * a, faint * b])
    }
}

/// Red, green and blue of a colour in Oklab.
fn shown([l, a, b]: [f64; 3]) -> [u8; 3] {
    let cone = |a_part: f64, b_part: f64| (l + a_part * a + b_part * b).powi(3);
    let long = cone(0.396_337_777_4, 0.215_803_757_3);
    let middle = cone(-0.105_561_345_8, -0.063_854_172_8);
    let short = cone(-0.089_484_177_5, -1.291_485_548);
    let byte = |linear: f64| {
        let linear = linear.clamp(0.0, 1.0);
        let shown = if linear <= 0.003_130_8 { 12.92 * linear } else { 1.055 * linear.powf(1.0 / 2.4) - 0.055 };
        (255.0 * shown).round() as u8
    };
    [
        byte(4.076_741_662_1 * long - 3.307_711_591_3 * middle + 0.230_969_929_2 * short),
        byte(-1.268_438_004_6 * long + 2.609_757_401_1 * middle - 0.341_319_396_5 * short),
        byte(-0.004_196_086_3 * long - 0.703_418_614_7 * middle + 1.707_614_701 * short),
    ]
}

/// Red, green and blue of letters on an amount's colour, on a light ground.
pub fn contrasting(share: f64) -> [u8; 3] {
    // Equal contrast of black and white: (1 + 0.05)/(L + 0.05) = (L + 0.05)/0.05.
    let alike = (1.05_f64 * 0.05).sqrt() - 0.05;
    if luminance(colour(share)) > alike { [0; 3] } else { [255; 3] }
}

/// Luminance of a colour by IEC 61966-2-1, 0 black to 1 white.
fn luminance([red, green, blue]: [u8; 3]) -> f64 {
    let linear = |c: u8| {
        let c = f64::from(c) / 255.0;
        if c <= 0.04045 { c / 12.92 } else { ((c + 0.055) / 1.055).powf(2.4) }
    };
    0.2126 * linear(red) + 0.7152 * linear(green) + 0.0722 * linear(blue)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn equal_steps_look_equal_and_only_darken() {
        let places: Vec<[f64; 3]> = (0..=20).map(|k| along(f64::from(k) / 20.0)).collect();
        let steps: Vec<f64> = places.windows(2).map(|pair| apart(pair[0], pair[1])).collect();
        let mean = steps.iter().sum::<f64>() / 20.0;
        // Chords are slightly shorter where the curve bends.
        assert!(steps.iter().all(|step| (step / mean - 1.0).abs() < 0.02), "{steps:?}");
        let grey: Vec<f64> = (0..=20).map(|k| luminance(colour(f64::from(k) / 20.0))).collect();
        assert!(grey.windows(2).all(|pair| pair[1] < pair[0] - 0.005), "{grey:?}");
    }

    #[test]
    fn letters_stand_out_from_every_colour() {
        // WCAG 2.2, 1.4.3: at least 4.5 to 1.
        for k in 0..=100 {
            let share = f64::from(k) / 100.0;
            let (a, b) = (luminance(colour(share)) + 0.05, luminance(contrasting(share)) + 0.05);
            assert!(a.max(b) / a.min(b) >= 4.5, "{share}: {}", a.max(b) / a.min(b));
        }
    }
}
