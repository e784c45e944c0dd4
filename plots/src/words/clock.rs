//! The time by which fleets are compared: hours that the motor runs, or days or weeks where duties rest.

use crate::words::clutches::followed;
use crate::words::number::figures;
use crate::words::say;
use slipsoak_engine::fleet::{Fleet, Outcome};
use slipsoak_engine::units::HOUR;

/// A day and a week, s.
const DAY: f64 = 24.0 * HOUR;
const WEEK: f64 = 7.0 * DAY;
/// Shortest time that is counted in weeks, s.
const WEEKS: f64 = 3.0 * WEEK;
/// Share of the running time below which a duty has a calendar of its own.
const RESTS: f64 = 0.9;
/// Number of weeks that is given in years.
const MANY: f64 = 120.0;

/// A clock.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Clock {
    /// seconds of its unit
    per: f64,
    /// whether it goes by the calendar
    calendar: bool,
    /// its unit in words
    pub unit: &'static str,
}

impl Clock {
    /// The clock of these fleets.
    pub fn of<'a>(fleets: impl Iterator<Item = &'a Fleet>) -> Self {
        let (least, longest) = fleets.fold((1.0, 0.0), |(share, longest), fleet| {
            (f64::min(share, fleet.running_share), f64::max(longest, fleet.horizon))
        });
        let (per, unit) = match (least < RESTS, longest >= WEEKS) {
            (false, _) => (HOUR, "h"),
            (true, true) => (WEEK, "weeks"),
            (true, false) => (DAY, "days"),
        };
        Self { per, calendar: least < RESTS, unit }
    }

    /// Whether it counts weeks.
    pub fn weekly(&self) -> bool {
        self.per == WEEK
    }

    /// Time of a clutch's first worn part.
    pub fn end(&self, outcome: &Outcome) -> Option<f64> {
        let end = if self.calendar { outcome.end? } else { outcome.running? };
        Some(end / self.per).filter(|time| time.is_finite())
    }

    /// Times of a fleet's first worn parts in their order.
    pub fn ends(&self, fleet: &Fleet) -> Vec<f64> {
        let mut ends: Vec<f64> = fleet.outcomes.iter().filter_map(|outcome| self.end(outcome)).collect();
        ends.sort_by(f64::total_cmp);
        ends
    }

    /// Time at which a clutch's oil was first due.
    pub fn due(&self, outcome: &Outcome) -> Option<f64> {
        let due = if self.calendar { outcome.service_due? } else { outcome.service_running? };
        Some(due / self.per).filter(|time| time.is_finite())
    }

    /// Time up to which a fleet was followed.
    pub fn followed(&self, fleet: &Fleet) -> f64 {
        (if self.calendar { fleet.horizon } else { followed(fleet) }) / self.per
    }

    /// Title of its axis; `running`: share of the time during which the motor runs, if all fleets have the same.
    pub fn title(&self, running: Option<f64>) -> String {
        match running {
            _ if !self.calendar => "hours the motor runs".to_owned(),
            Some(share) => {
                let hours = figures(100.0 * self.per * share / HOUR, 2);
                format!("{} by the calendar (100 {}: {hours} h of running)", self.unit, self.unit)
            }
            None => format!("{} by the calendar", self.unit),
        }
    }

    /// A time of its unit in words; many weeks in years.
    pub fn say(&self, time: f64) -> String {
        if self.weekly() && time >= MANY {
            return say::calendar(time * WEEK);
        }
        format!("{}\u{a0}{}", figures(time, 2), self.unit)
    }

    /// The clutch that fails as the k-th of a fleet, from 0.
    pub fn failing<'a>(&self, fleet: &'a Fleet, k: usize) -> Option<&'a Outcome> {
        let mut failed: Vec<(f64, &Outcome)> = fleet.outcomes.iter().filter_map(|o| Some((self.end(o)?, o))).collect();
        failed.sort_by(|a, b| a.0.total_cmp(&b.0));
        failed.get(k).map(|(_, outcome)| *outcome)
    }

    /// A time in words: running time, s, and by the calendar in its unit, if it goes by that.
    pub fn running_first(&self, running: f64, calendar: f64) -> String {
        let by = if self.calendar { format!(" ({})", self.say(calendar)) } else { String::new() };
        format!("{} of running{by}", say::time(running))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn many_weeks_are_said_in_years_and_more_than_a_century_in_no_number() {
        let weeks = Clock { per: WEEK, calendar: true, unit: "weeks" };
        let said = [30.0, 208.7, 43_310.0].map(|time| weeks.say(time));
        assert_eq!(said, ["30\u{a0}weeks", "4\u{a0}years", "over 100\u{a0}years"]);
        assert_eq!(
            say::life(28.0 * HOUR, 830.0 * say::YEAR),
            "28\u{a0}h of running (over 100\u{a0}years by the calendar)"
        );
    }
}
