//! Lines with fewer places that look the same.

use crate::sheet::mark::Spot;

/// Largest distance of a place left out from the line, tenths of a px.
const OFF: f64 = 1.5;

/// The line without places that lie on it to within a sixth of a px (Ramer 1972, Douglas and Peucker 1973).
pub fn fewer(places: Vec<Spot>) -> Vec<Spot> {
    if places.len() < 3 {
        return places;
    }
    let mut kept = vec![false; places.len()];
    let mut spans = vec![(0, places.len() - 1)];
    while let Some((from, to)) = spans.pop() {
        (kept[from], kept[to]) = (true, true);
        let off = |k: usize| distance(places[k], places[from], places[to]);
        let farthest = (from + 1..to).map(|k| (k, off(k))).max_by(|a, b| a.1.total_cmp(&b.1));
        if let Some((k, _)) = farthest.filter(|(_, off)| *off > OFF) {
            spans.extend([(from, k), (k, to)]);
        }
    }
    places.into_iter().zip(kept).filter_map(|(place, kept)| kept.then_some(place)).collect()
}

/// Distance of a place from a piece of a line, tenths of a px.
fn distance(place: Spot, from: Spot, to: Spot) -> f64 {
    let between = |a: Spot, b: Spot| (f64::from(b.0 - a.0), f64::from(b.1 - a.1));
    let ((x, y), (along, up)) = (between(from, place), between(from, to));
    let square = along * along + up * up;
    let share = if square > 0.0 { ((x * along + y * up) / square).clamp(0.0, 1.0) } else { 0.0 };
    (x - share * along).hypot(y - share * up)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_keeps_its_corners_its_ends_and_its_shape_and_loses_what_lies_on_it() {
        let straight: Vec<Spot> = (0..=100).map(|k| (10 * k, 20 * k)).collect();
        assert_eq!(fewer(straight), [(0, 0), (1000, 2000)]);
        let comb: Vec<Spot> = (0..50).map(|k| (7 * k, 300 * (k % 2))).collect();
        assert_eq!(fewer(comb.clone()), comb);
        // There and back: the far end lies on the line through both ends, but beyond it.
        assert_eq!(fewer(vec![(0, 0), (500, 0), (100, 0)]), [(0, 0), (500, 0), (100, 0)]);
        let arc: Vec<Spot> = (0..=900)
            .map(|k| f64::from(k).to_radians() / 10.0)
            .map(|a| ((5000.0 * a.cos()) as i32, (5000.0 * a.sin()) as i32))
            .collect();
        let few = fewer(arc.clone());
        assert!(few.len() < 60, "{}", few.len());
        let off = |place: &Spot| few.windows(2).map(|w| distance(*place, w[0], w[1])).fold(f64::INFINITY, f64::min);
        assert!(arc.iter().all(|place| off(place) <= OFF));
    }
}
