//! The days of service of a policy.

use super::day::Day;
use crate::document::season::{Policy, ServiceDays};

/// The days of service of a policy; preventive renewal without oiling is on Mondays. None is before the first ride or after the last: what
/// has not ridden needs nothing, and what will not ride again neither.
pub(super) struct Calendar {
    on: ServiceDays,
    before_opening: bool,
    /// first and last riding day, by number
    rides: Option<(usize, usize)>,
    /// days that had passed at the last service by a number of days
    last: usize,
}

impl Calendar {
    pub fn new(policy: &Policy, days: &[Day]) -> Self {
        let open = |day: &Day| day.open;
        Self {
            on: policy.oiling.map_or(ServiceDays::Weekday(0), |oiling| oiling.on),
            before_opening: policy.oiling.is_some_and(|oiling| oiling.before_opening),
            rides: days.iter().position(open).zip(days.iter().rposition(open)),
            last: 0,
        }
    }

    /// Whether a day is one of service. So many days after the last one are counted by the calendar, and oil then goes in at the next ride:
    /// drops on a bushing that has not ridden meanwhile would go in cold, on oil that is still there.
    pub fn serves(&mut self, number: usize, day: &Day) -> bool {
        let Some((first, last)) = self.rides else { return false };
        // Before opening the day itself still rides; after closing it has ridden.
        let within =
            if self.before_opening { number > first && number <= last } else { number >= first && number < last };
        let passed = number + usize::from(!self.before_opening);
        let due = match self.on {
            ServiceDays::Every(days) => day.open && passed >= self.last + days.max(1) as usize,
            ServiceDays::Weekday(weekday) => day.date.weekday() as u64 == weekday,
        };
        if due && within {
            self.last = passed;
        }
        due && within
    }
}

/// Number of oilings of a season by a policy.
pub(super) fn services(policy: &Policy, days: &[Day]) -> u64 {
    if policy.oiling.is_none() {
        return 0;
    }
    let mut calendar = Calendar::new(policy, days);
    days.iter().enumerate().filter(|(number, day)| calendar.serves(*number, day)).count() as u64
}
