//! Distances on the earth's ellipsoid.

/// Equatorial radius and flattening of the WGS 84 ellipsoid, m and 1.
const RADIUS: f64 = 6_378_137.0;
const FLATTENING: f64 = 1.0 / 298.257_223_563;

/// Length of the shortest path between two places on the ellipsoid, m; latitude and longitude in degrees.
///
/// Vincenty's inverse formula (Survey Review 23 (1975) 88), to well below a millimetre. If it does not converge (for
/// nearly antipodal places, which no ride connects), the sphere of the mean radius is used, within 0.6 %.
///
/// ```
/// let d = slipsoak::read::geodesic::distance((0.0, 0.0), (0.0, 1.0));
/// assert!((d - 111_319.491).abs() < 1e-3); // along the equator: radius × π/180
/// ```
pub fn distance((lat1, lon1): (f64, f64), (lat2, lon2): (f64, f64)) -> f64 {
    let (a, f) = (RADIUS, FLATTENING);
    let b = a * (1.0 - f);
    let reduced = |lat: f64| ((1.0 - f) * lat.to_radians().tan()).atan();
    let ((sin1, cos1), (sin2, cos2)) = (reduced(lat1).sin_cos(), reduced(lat2).sin_cos());
    let across = (lon2 - lon1).to_radians();
    let mut lambda = across;
    for _ in 0..50 {
        let (sl, cl) = lambda.sin_cos();
        let sin = (cos2 * sl).hypot(cos1 * sin2 - sin1 * cos2 * cl);
        if sin == 0.0 {
            return 0.0;
        }
        let cos = sin1 * sin2 + cos1 * cos2 * cl;
        let sigma = sin.atan2(cos);
        let alpha = cos1 * cos2 * sl / sin;
        let cos_alpha2 = 1.0 - alpha * alpha;
        let middle = if cos_alpha2 > 1e-15 { cos - 2.0 * sin1 * sin2 / cos_alpha2 } else { 0.0 };
        let c = f / 16.0 * cos_alpha2 * (4.0 + f * (4.0 - 3.0 * cos_alpha2));
        let turn = sigma + c * sin * (middle + c * cos * (2.0 * middle * middle - 1.0));
        let next = across + (1.0 - c) * f * alpha * turn;
        if (next - lambda).abs() < 1e-13 {
            let u2 = cos_alpha2 * (a * a - b * b) / (b * b);
            let big_a = 1.0 + u2 / 16384.0 * (4096.0 + u2 * (u2 * (320.0 - 175.0 * u2) - 768.0));
            let big_b = u2 / 1024.0 * (256.0 + u2 * (u2 * (74.0 - 47.0 * u2) - 128.0));
            let inner = cos * (2.0 * middle * middle - 1.0)
                - big_b / 6.0 * middle * (4.0 * sin * sin - 3.0) * (4.0 * middle * middle - 3.0);
            return b * big_a * (sigma - big_b * sin * (middle + big_b / 4.0 * inner));
        }
        lambda = next;
    }
    let (p1, p2) = (lat1.to_radians(), lat2.to_radians());
    let half = ((p2 - p1) / 2.0).sin().powi(2) + p1.cos() * p2.cos() * (across / 2.0).sin().powi(2);
    2.0 * 6_371_008.8 * half.sqrt().asin()
}
