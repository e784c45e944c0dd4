//! The season of a workshop against published and exact results of renewal theory.

use slipsoak_engine::calendar::Date;
use slipsoak_engine::fleet::deviate;
use slipsoak_engine::names::Part;
use slipsoak_engine::season::{Cart, Day, Happened, Log, Oiling, Policy, SPARES, ServiceDays, Stock, season};

const AT_LIMIT: Policy = Policy { oiling: None, preventive: None };
const ENOUGH: Stock = Stock { parts: [None; SPARES.len()], lead: 0 };

/// A cart with one part, a washer, whose lives are drawn from a distribution, in days of riding.
struct Clockwork<F> {
    life: F,
    seed: u64,
    renewals: u64,
    age: f64,
    now: f64,
}

impl<F: Fn(f64) -> f64> Clockwork<F> {
    fn new(life: F, seed: u64) -> Self {
        let now = life(deviate(seed, 0, "life"));
        Self { life, seed, renewals: 0, age: 0.0, now }
    }
}

impl<F: Fn(f64) -> f64> Cart for Clockwork<F> {
    fn ride(&mut self, day: &Day) -> Option<(Part, f64)> {
        let left = self.now - self.age;
        self.age += day.hours;
        (left <= day.hours).then(|| (Part::Washer, left / day.hours))
    }

    fn used(&self, part: Part) -> f64 {
        if part == Part::Washer { self.age / self.now } else { 0.0 }
    }

    fn renew(&mut self, _: Part) {
        self.renewals += 1;
        self.age = 0.0;
        self.now = (self.life)(deviate(self.seed, self.renewals, "life"));
    }

    fn oil(&mut self, _: f64, _: &Day, _: bool) {}

    fn oil_due(&self) -> bool {
        false
    }
}

fn days(count: i64) -> Vec<Day> {
    (0..count).map(|k| Day { date: Date(k), open: true, hours: 1.0, temperature: 293.15 }).collect()
}

/// Mean number of lives that end within so many days, with its standard error; a life in days by a deviate.
fn ended(within: i64, shops: u64, life: impl Fn(f64) -> f64) -> (f64, f64) {
    let days = days(within);
    let one = |seed| {
        let mut carts = [Clockwork::new(&life, seed)];
        let log = season(&mut carts, &days, &AT_LIMIT, &ENOUGH);
        log.events.iter().filter(|event| event.what == Happened::Stopped).count() as f64
    };
    let all: Vec<f64> = (0..shops).map(one).collect();
    let mean = all.iter().sum::<f64>() / shops as f64;
    let variance = all.iter().map(|n| (n - mean).powi(2)).sum::<f64>() / shops as f64;
    (mean, (variance / shops as f64).sqrt())
}

/// A new part starts at the next opening, half a day later on the mean: each life is that much longer.
fn close(found: (f64, f64), exact: f64, days_per_life: f64) -> bool {
    (found.0 - exact).abs() < 4.0 * found.1 + exact * 0.6 / days_per_life
}

#[test]
fn renewals_of_uniform_and_weibull_lives_are_those_of_renewal_theory() {
    // Uniform between 0 and 1: e^t − 1 up to 1, then a second term; at 2 by the same sum. Exact.
    for (t, exact) in [(0.5, 0.648_721), (1.0, 1.718_282), (2.0, 3.670_774)] {
        let found = ended((500.0 * t) as i64, 3000, |u| 500.0 * u);
        assert!(close(found, exact, 250.0), "uniform {t}: {found:?}");
    }
    // W. L. Smith and M. R. Leadbetter, Technometrics 5 (1963) 393 (from memory), confirmed by convolution.
    for (shape, t, exact) in
        [(1.5, 1.0, 0.841_578), (2.0, 2.0, 1.894_039), (2.5, 2.0, 1.843_908), (2.5, 0.5, 0.164_771)]
    {
        let life = |u: f64| 500.0 * (-(1.0 - u).ln()).powf(1.0 / shape);
        let found = ended((500.0 * t) as i64, 3000, life);
        assert!(close(found, exact, 440.0), "Weibull {shape}, {t}: {found:?}");
    }
}

#[test]
fn renewals_of_lives_of_two_stages_are_those_of_their_closed_form() {
    // Sum of two exponential stages: λt/2 − ¼ + e^(−2λt)/4. Exact. The life by Newton on 1 − (1 + x) e^(−x).
    let life = |u: f64| {
        let mut x = 1.5;
        for _ in 0..60 {
            x -= (1.0 - (1.0 + x) * f64::exp(-x) - u) / (x * f64::exp(-x)).max(1e-12);
            x = x.clamp(1e-9, 60.0);
        }
        250.0 * x
    };
    for (t, exact) in [(1.0, 0.283_834), (2.0, 0.754_579), (4.0, 1.750_084)] {
        let found = ended((250.0 * t) as i64, 3000, life);
        assert!(close(found, exact, 500.0), "{t}: {found:?}");
    }
    // Twelve such carts at λt = 2: mean 9.054947, variance 6.529961. Exact.
    let year = days(500);
    let totals: Vec<f64> = (0..1500_u64)
        .map(|shop| {
            let mut carts: Vec<_> = (0..12).map(|k| Clockwork::new(life, 100 * shop + k)).collect();
            let log = season(&mut carts, &year, &AT_LIMIT, &ENOUGH);
            log.events.iter().filter(|event| event.what == Happened::Stopped).count() as f64
        })
        .collect();
    let n = totals.len() as f64;
    let mean = totals.iter().sum::<f64>() / n;
    let variance = totals.iter().map(|k| (k - mean).powi(2)).sum::<f64>() / n;
    assert!((mean - 9.054_947).abs() < 4.0 * (6.53 / n).sqrt() + 0.01, "{mean}");
    assert!((variance / 6.529_961 - 1.0).abs() < 4.0 * (2.0 / n).sqrt(), "{variance}");
}

#[test]
fn carts_that_wait_for_ordered_parts_are_as_many_as_in_the_exact_chain() {
    // 12 carts, exponential lives of mean 10 weeks, parts two weeks after the demand, none in stock; a week is 50 days here.
    // Expected carts down at 1, 2, 3, 4 weeks: two stages by convolution. Exact.
    const WEEK: f64 = 50.0;
    let stock = Stock { parts: [Some(0); SPARES.len()], lead: 100 };
    let year = days(4 * 50 + 1);
    let shops = 600_u64;
    let mut down = vec![0.0; year.len()];
    for shop in 0..shops {
        let life = |u: f64| -10.0 * WEEK * (1.0 - u).ln();
        let mut carts: Vec<_> = (0..12).map(|k| Clockwork::new(life, 100 * shop + k)).collect();
        for (sum, one) in down.iter_mut().zip(season(&mut carts, &year, &AT_LIMIT, &stock).down) {
            *sum += one / shops as f64;
        }
    }
    for (weeks, exact) in [(1, 1.141_951), (2, 2.175_231), (3, 2.024_376), (4, 1.991_206)] {
        let found = 0.5 * (down[weeks * 50 - 1] + down[weeks * 50]);
        // A binomial's standard error, four of it, and half a day of each of the two stages.
        assert!((found - exact).abs() < 4.0 * (exact / shops as f64).sqrt() + 0.02, "{weeks}: {found}");
    }
}

/// Poisson demands of mean 3.2 in the time until an ordered part arrives, five parts in stock: 0.174999 demands wait on the mean, the
/// sum of (n − 5) P(n) over n above 5. Exact; C. C. Palm's theorem as used by Sherbrooke, Operations Research 16 (1968), abstract.
#[test]
fn as_many_carts_wait_for_parts_as_of_poisson_demands_with_one_for_one_stock() {
    const LEAD: usize = 64;
    const CARTS: u64 = 128;
    let stock = Stock { parts: [Some(5); SPARES.len()], lead: LEAD as u64 };
    let year = days(1500 * LEAD as i64);
    let mean = |shop: u64| {
        let life = |u: f64| -(CARTS as f64 * LEAD as f64 / 3.2) * (1.0 - u).ln();
        let mut carts: Vec<_> = (0..CARTS).map(|k| Clockwork::new(life, 1000 * shop + k)).collect();
        let down = season(&mut carts, &year, &AT_LIMIT, &stock).down;
        down[10 * LEAD..].iter().sum::<f64>() / (down.len() - 10 * LEAD) as f64
    };
    let all: Vec<f64> = (0..2).map(mean).collect();
    let found = all.iter().sum::<f64>() / all.len() as f64;
    // Each of 3.2 demands in 64 days is half a day in the workshop besides; a cart that waits demands nothing: −0.001. A variance of
    // 0.33, alike within half of the 64 days, over 2980 of them: a standard error of 0.011.
    let exact = 0.174_999 + 0.5 * 3.2 / LEAD as f64;
    assert!((found - exact).abs() < 0.033, "{found}, not {exact}");
}

/// The season of 1 April to 31 October 2027, Wednesday to Sunday, six hours a day.
fn summer() -> Vec<Day> {
    let [first, last] = ["2027-04-01", "2027-10-31"].map(|text| Date::read(text).expect("a date"));
    let one = |k| Day { date: Date(k), open: Date(k).weekday() >= 2, hours: 6.0, temperature: 293.15 };
    (first.0..=last.0).map(one).collect()
}

fn renewed(log: &Log) -> Vec<String> {
    let new = log.events.iter().filter(|e| matches!(e.what, Happened::Renewed | Happened::RenewedEarly));
    new.map(|event| event.date.to_string()).collect()
}

#[test]
fn a_part_of_a_hundred_hours_is_renewed_on_the_days_that_the_calendar_gives() {
    let days = summer();
    assert_eq!(days.iter().filter(|day| day.open).count(), 154);
    let cart = || [Clockwork::new(|_| 100.0, 1)];
    let log = season(&mut cart(), &days, &AT_LIMIT, &ENOUGH);
    // By counting: it stops after 100 h on the seventeenth riding day, 23 April, and rides again at the opening of the next;
    // nine such lives of seventeen days fit into 154.
    let stops: Vec<_> = log.events.iter().filter(|e| e.what == Happened::Stopped).collect();
    assert_eq!((stops.len(), stops[0].date.to_string().as_str()), (9, "2027-04-23"));
    assert_eq!(renewed(&log)[0], "2027-04-24");
    assert!((log.down.iter().sum::<f64>() - 9.0 / 3.0).abs() < 1e-9, "a third of each such day is lost");
    // From 0.8 of the life on Tuesdays: every third Tuesday from 20 April to 26 October, and no cart ever stops.
    let oiling = Oiling { drops: 0.0, on: ServiceDays::Weekday(1), before_opening: false };
    let policy = Policy { oiling: Some(oiling), preventive: Some(0.8) };
    let log = season(&mut cart(), &days, &policy, &ENOUGH);
    let dates = renewed(&log);
    assert_eq!((dates.len(), dates[0].as_str(), dates[9].as_str()), (10, "2027-04-20", "2027-10-26"));
    assert_eq!(log.first_stop, None);
}

#[test]
fn a_rule_of_days_oils_after_rides_only_and_no_rule_before_the_first_ride_or_after_the_last() {
    let days = summer();
    let oiled = |on, before_opening| {
        let policy = Policy { oiling: Some(Oiling { drops: 4.0, on, before_opening }), preventive: Some(0.3) };
        let log = season(&mut [Clockwork::new(|_| 1e9, 1)], &days, &policy, &ENOUGH);
        let all = log.events.iter().filter(|event| event.what == Happened::Oiled);
        all.map(|event| event.date).collect::<Vec<_>>()
    };
    // Of 154 riding days, Wednesday to Sunday from 1 April, a Thursday, to 31 October, a Sunday: after all but the last.
    let daily = oiled(ServiceDays::Every(1), false);
    assert_eq!(daily.len(), 153);
    assert!(daily.iter().all(|date| date.weekday() >= 2), "a closed day is oiled");
    // Before opening the first day needs none.
    assert_eq!(oiled(ServiceDays::Every(1), true).len(), 153);
    // A week after the first day is a Wednesday evening, and so on.
    let weekly = oiled(ServiceDays::Every(7), false);
    assert_eq!([weekly[0], weekly[1]].map(|date| date.to_string()), ["2027-04-07", "2027-04-14"]);
    // Five days after Wednesday is a Monday, closed, and so it is Wednesday again.
    let often = oiled(ServiceDays::Every(5), false);
    assert_eq!([often[0], often[1]].map(|date| date.to_string()), ["2027-04-07", "2027-04-14"]);
    // Mondays are closed days: service stays possible, 5 April to 25 October.
    let mondays = oiled(ServiceDays::Weekday(0), false);
    assert_eq!((mondays.len(), mondays[0].to_string().as_str()), (30, "2027-04-05"));
    // Sundays: the last is the last riding day.
    assert_eq!(oiled(ServiceDays::Weekday(6), false).len(), 30);
}

#[test]
fn no_part_is_renewed_early_after_the_last_ride() {
    let days = &summer()[..4];
    // Thursday to Sunday: four rides of 6 h of a life of 30 h. On Sunday evening 0.8 is reached, and nobody rides on Monday.
    let oiling = Oiling { drops: 0.0, on: ServiceDays::Every(1), before_opening: false };
    let policy = Policy { oiling: Some(oiling), preventive: Some(0.8) };
    let log = season(&mut [Clockwork::new(|_| 30.0, 1)], days, &policy, &ENOUGH);
    assert_eq!(renewed(&log), Vec::<String>::new());
}

#[test]
fn the_hours_of_a_season_count_by_the_temperature_of_their_month() {
    // 120 h in each of seven months, rate e^(0.02 (T − 20 °C)): 768.2904 h at 20 °C; by the mean temperature 764.4191. Exact sums.
    struct Warm(f64);
    impl Cart for Warm {
        fn ride(&mut self, day: &Day) -> Option<(Part, f64)> {
            self.0 += day.hours * f64::exp(0.02 * (day.temperature - 293.15));
            None
        }
        fn used(&self, _: Part) -> f64 {
            0.0
        }
        fn renew(&mut self, _: Part) {}
        fn oil(&mut self, _: f64, _: &Day, _: bool) {}
        fn oil_due(&self) -> bool {
            false
        }
    }
    let mut days = vec![];
    for (month, celsius) in (4..).zip([8.0, 12.0, 18.0, 22.0, 21.0, 16.0, 10.0]) {
        let of = |day| Day {
            date: Date::of(2027, month, day).expect("a date"),
            open: true,
            hours: 6.0,
            temperature: celsius + 273.15,
        };
        days.extend((1..=20).map(of));
    }
    let mut carts = [Warm(0.0)];
    season(&mut carts, &days, &AT_LIMIT, &ENOUGH);
    assert!((carts[0].0 - 768.2904).abs() < 1e-4, "{}", carts[0].0);
}

#[test]
fn age_replacement_costs_what_renewal_theory_says() {
    // Weibull lives, shape 2.5, scale 1000 h; a failure costs 5, a preventive renewal 1. Optimum 493.047 h: 0.003462043 per hour;
    // at failure alone 0.005635302. R. E. Barlow and F. Proschan, Mathematical Theory of Reliability (1965), chapter 4, in form.
    struct Aged(Clockwork<fn(f64) -> f64>);
    impl Cart for Aged {
        fn ride(&mut self, day: &Day) -> Option<(Part, f64)> {
            self.0.ride(day)
        }
        // What the workshop sees is the age; a failure comes unseen.
        fn used(&self, part: Part) -> f64 {
            if part == Part::Washer { self.0.age / 1000.0 } else { 0.0 }
        }
        fn renew(&mut self, part: Part) {
            self.0.renew(part);
        }
        fn oil(&mut self, _: f64, _: &Day, _: bool) {}
        fn oil_due(&self) -> bool {
            false
        }
    }
    let life: fn(f64) -> f64 = |u| 1000.0 * (-(1.0 - u).ln()).powf(0.4);
    let year = days(40_000);
    let oiling = Oiling { drops: 0.0, on: ServiceDays::Every(1), before_opening: false };
    for (share, exact) in [(Some(0.493), 0.003_462_043), (None, 0.005_635_302)] {
        let policy = Policy { oiling: Some(oiling), preventive: share };
        let costs: Vec<f64> = (0..60_u64)
            .map(|seed| {
                let log = season(&mut [Aged(Clockwork::new(life, seed))], &year, &policy, &ENOUGH);
                let count = |what| log.events.iter().filter(|event| event.what == what).count() as f64;
                (5.0 * count(Happened::Stopped) + count(Happened::RenewedEarly)) / year.len() as f64
            })
            .collect();
        let n = costs.len() as f64;
        let mean = costs.iter().sum::<f64>() / n;
        let error = (costs.iter().map(|c| (c - mean).powi(2)).sum::<f64>() / n / n).sqrt();
        assert!((mean - exact).abs() < 4.0 * error + 2e-3 * exact, "{share:?}: {mean} ± {error}");
    }
}

#[test]
fn the_first_of_twelve_carts_stops_as_order_statistics_say() {
    // Weibull 2.5, 1000 h: the first of 12 has the median 319.6375 h and the mean 328.3827 h. Exact.
    let year = days(2000);
    let first = |shop: u64| {
        let life = |u: f64| 1000.0 * (-(1.0 - u).ln()).powf(0.4);
        let mut carts: Vec<_> = (0..12).map(|k| Clockwork::new(life, 100 * shop + k)).collect();
        season(&mut carts, &year, &AT_LIMIT, &ENOUGH).first_stop.map_or(0.0, |first| first.0)
    };
    let mut all: Vec<f64> = (0..1000).map(first).collect();
    all.sort_by(f64::total_cmp);
    let mean = all.iter().sum::<f64>() / 1000.0;
    // Standard deviation of the first 140 h; of a median 1.25 times that of a mean.
    assert!((mean - 328.3827).abs() < 4.0 * 140.0 / 1000_f64.sqrt(), "{mean}");
    assert!((all[500] - 319.6375).abs() < 5.0 * 140.0 / 1000_f64.sqrt(), "{}", all[500]);
}

/// Of 12 carts that each stop with a probability of 0.05 one stops in 1 − 0.95¹² = 0.459640 of the shops. Exact.
#[test]
fn one_of_twelve_carts_stops_as_often_as_their_probabilities_say() {
    let life = |deviate: f64| if deviate < 0.05 { 0.5 } else { 1e9 };
    let shops = 4000;
    let stops = |shop: &u64| {
        let mut carts: Vec<_> = (0..12).map(|cart| Clockwork::new(life, 12 * shop + cart)).collect();
        season(&mut carts, &days(1), &AT_LIMIT, &ENOUGH).first_stop.is_some()
    };
    let share = (0..shops).filter(stops).count() as f64 / shops as f64;
    // Three standard errors.
    assert!((share - 0.459_640).abs() < 0.024, "{share}");
}

#[test]
fn more_stock_never_gives_more_days_down() {
    let year = days(400);
    let lost = |parts: u64| {
        let stock = Stock { parts: [Some(parts); SPARES.len()], lead: 30 };
        let life = |u: f64| -100.0 * (1.0 - u).ln();
        let mut carts: Vec<_> = (0..12).map(|k| Clockwork::new(life, k)).collect();
        season(&mut carts, &year, &AT_LIMIT, &stock).down.iter().sum::<f64>()
    };
    let all: Vec<f64> = (0..8).map(lost).collect();
    assert!(all.windows(2).all(|two| two[1] <= two[0]) && all[0] > all[7] + 100.0, "{all:?}");
}
