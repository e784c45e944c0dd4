//! What somebody says of a season: dates, weekdays, temperatures, rules of oiling, parts and prices.

mod dates;
mod rules;
mod spares;

use crate::read::refusal::Refusal;
pub(super) use dates::{dates, listed_temperatures, temperatures, weekdays};
pub(super) use rules::{before_opening, every, on, policy};
pub(super) use spares::{prices, stock, used};

fn refused<T>(option: &str, why: impl Into<String>) -> Result<T, Refusal> {
    Err(Refusal::new(format!("{option}: {}", why.into())))
}

#[cfg(test)]
mod tests {
    use super::*;
    use slipsoak_engine::names::Part;
    use slipsoak_engine::season::{Oiling, Policy, ServiceDays};

    fn said<T: std::fmt::Debug>(answer: Result<T, Refusal>) -> String {
        answer.expect_err("it is refused").to_string()
    }

    #[test]
    fn weekdays_are_read_as_people_write_them() {
        let of = |text: &str| {
            let days = weekdays(text).expect("weekdays");
            (0..7).filter(|k| days[*k]).collect::<Vec<_>>()
        };
        assert_eq!(of("Wed-Sun"), [2, 3, 4, 5, 6]);
        assert_eq!(of("Sat-Mon"), [0, 5, 6]);
        assert_eq!(of("Sat to Mon"), [0, 5, 6]);
        assert_eq!(of("mondays, Fri."), [0, 4]);
        assert!(
            said(weekdays("Wedn-Sun")).contains("`Wedn` is no weekday (did you mean `wed`?)"),
            "{}",
            said(weekdays("Wedn-Sun"))
        );
    }

    #[test]
    fn a_temperature_for_each_month_or_one_for_all() {
        let dates = dates(Some("2027-04-01"), Some("2027-06-30")).expect("dates");
        let read = temperatures("8, 12, 18 °C", dates).expect("temperatures");
        assert_eq!(read.iter().map(|m| m.0).collect::<Vec<_>>(), [4, 5, 6]);
        assert!((read[2].1 - 291.15).abs() < 1e-9);
        assert!((temperatures("50 °F", dates).expect("one")[1].1 - 283.15).abs() < 1e-9);
        assert!(
            said(temperatures("8, 12 °C", dates))
                .contains("2 temperatures are given, but 2027-04-01 to 2027-06-30 takes 3")
        );
        assert!(said(temperatures("8, 12, 18", dates)).contains("no unit"));
        assert!(said(temperatures("8, 12, 180 °C", dates)).contains("180"));
    }

    #[test]
    fn dates_the_wrong_way_and_impossible_ones_are_refused() {
        assert!(said(dates(Some("2027-10-31"), Some("2027-04-01"))).contains("before the first day"));
        assert!(said(dates(Some("2027-02-30"), Some("2027-04-01"))).contains("`2027-02-30` is no date"));
        assert!(said(dates(None, Some("2027-04-01"))).starts_with("from: it is missing"));
        assert!(said(dates(Some("2020-01-01"), Some("2027-04-01"))).contains("days; a season has at most"));
    }

    #[test]
    fn rules_parts_and_prices_are_read_and_refused_by_name() {
        let rule = policy("4 drops every 14 days before opening, renew at 80 %").expect("a rule");
        let oiling = Oiling { drops: 4.0, on: ServiceDays::Every(14), before_opening: true };
        assert_eq!(rule, Policy { oiling: Some(oiling), preventive: Some(0.8) });
        assert_eq!(policy("never").expect("a rule").oiling, None);
        assert!(said(policy("a bit of oil")).contains("write for example"));
        assert_eq!(stock("5 washers, 2 sets of springs").expect("a stock"), [(Part::Washer, 5), (Part::Spring, 2)]);
        assert!(said(stock("5 belts")).contains("there is no spare part `belts`"));
        assert!(said(stock("washers")).contains("write a number and a part"));
        let read = prices("washer 3, work 15.5, day 60").expect("prices");
        assert_eq!((read.parts, read.visit, read.day_down), (vec![(Part::Washer, 3.0)], Some(15.5), Some(60.0)));
        assert_eq!((read.oiling, prices("oiling 0").expect("prices").oiling), (None, Some(0.0)));
        assert!(said(prices("tyre 3")).contains("spare part `tyre`"));
        assert!(
            said(stock("2 linings, 1 washer, 3 lining")).contains("stock: `2 linings` and `3 lining` say the same")
        );
        assert!(said(used("linings 40 h, linings 4000 h")).contains("used: `linings 40 h` and `linings 4000 h` say"));
        assert!(said(prices("washer 3, day 1, washer 5")).contains("prices: `washer 3` and `washer 5` say"));
        assert!(said(prices("work 3, Work 5")).contains("`work 3` and `Work 5` say the same thing twice"));
        assert!((used("washers 40 h").expect("hours")[0].1 - 144_000.0).abs() < 1e-6);
    }
}
