//! What cleaning changed in a recording.

use crate::words::number::figures;
use crate::words::say;
use slipsoak_engine::retraced::Cleaning;

/// Report of cleaning, in sentences.
pub fn lines(cleaning: &Cleaning, file: &str) -> Vec<String> {
    let mut all = vec![format!(
        "{file}: {} points, {} kept, {:.0} s, {:.0} m",
        cleaning.points, cleaning.kept, cleaning.duration, cleaning.distance
    )];
    let mut say = |count: u64, what: &str| {
        if count > 0 {
            all.push(format!("  {count} {}{what}", if count == 1 { "point" } else { "points" }));
        }
    };
    say(cleaning.repeated, " dropped: repeated time");
    say(cleaning.backward, " dropped: time before that of an earlier point");
    say(cleaning.jumps, " dropped: faster than 40 m/s, or changing speed by more than 12 m/s²");
    say(cleaning.joined, " joined with neighbours into one a second");
    let slow = figures((cleaning.slow * 100.0).round() / 100.0, 3);
    let standing = if cleaning.noise > 0.0 {
        format!(" slower than {slow} m/s, or up to twice that between such: noise, counted as standing")
    } else {
        format!(
            " counted as standing: no faster than GPS drift ({slow} m/s over some seconds, up to twice that over less than 4 m)"
        )
    };
    say(cleaning.standing, &standing);
    say(cleaning.straightened, " dropped: on a straight line between their neighbours (within 0.25 m/s)");
    if cleaning.gaps > 0 {
        all.push(gaps(cleaning));
    }
    if cleaning.evened > 0.0 {
        let why = if cleaning.noise > 0.0 {
            format!("the speed is noisy at rest (standard deviation {:.2} m/s)", cleaning.noise)
        } else {
            "GPS positions are noisy".to_owned()
        };
        all.push(format!(
            "  {why}: averaged over {} s to either side, which changes a speed by up to {:.1} m/s",
            figures((cleaning.evened_over * 10.0).round() / 10.0, 3),
            cleaning.evened
        ));
    }
    if cleaning.first_left_out > 0 {
        all.push(format!("  the first point dropped is on line {}", cleaning.first_left_out));
    }
    if !cleaning.ignored.is_empty() {
        all.push(format!("  columns not used: {}", cleaning.ignored.join(", ")));
    }
    if cleaning.begins > 0.0 {
        all.push(format!("  begins at {}, brought up to it from standstill", say::road_speed(cleaning.begins)));
    }
    if cleaning.climbs > 0.0 {
        all.push(format!("  altitudes not used; they range over {:.0} m", cleaning.climbs));
    }
    if cleaning.shifted != 0.0 {
        all.push("  time counted from the first point".to_owned());
    }
    all
}

/// What was done where nothing was recorded.
fn gaps(cleaning: &Cleaning) -> String {
    let gaps = if cleaning.gaps == 1 { "gap" } else { "gaps" };
    let time = say::time;
    let (stood, moved) = (cleaning.stood, cleaning.gaps - cleaning.stood.min(cleaning.gaps));
    let held = format!(
        "{}stood by the positions on both sides, with the motor taken to idle, though it may have been off",
        if moved == 0 { "it ".to_owned() } else { format!("in {stood} ({}) it ", time(cleaning.stood_time)) }
    );
    let ridden = format!(
        "{}moved {:.0} m between the positions on both sides, at the mean speed",
        if stood == 0 {
            "it ".to_owned()
        } else {
            format!("in {moved} ({}) it ", time(cleaning.gap_time - cleaning.stood_time))
        },
        cleaning.moved_way
    );
    let what = match (stood > 0, cleaning.moved_way > 0.0) {
        (true, true) => format!("{held}; {ridden}"),
        (true, false) => held,
        (false, true) => ridden,
        (false, false) => "bridged by a straight line".to_owned(),
    };
    format!("  {} {gaps} longer than 10 s, {} in all: {what}", cleaning.gaps, time(cleaning.gap_time))
}
