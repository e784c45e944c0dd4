//! The values with which a result of any kind answers, in two results beside each other.

use crate::sheet::prelude::scales;
use crate::words::changed::{Measure, Pair};
use crate::words::clutches::milestone;
use crate::words::compared::{fill, peak};
use crate::words::number::figures;
use crate::words::reading::{celsius, end};
use crate::words::{measuring, say, season};
use slipsoak_engine::calibrate::{Calibration, Learned};
use slipsoak_engine::document::Saved;
use slipsoak_engine::fleet::{Fleet, Report};
use slipsoak_engine::measure_plan::{Candidate, MeasurePlan};
use slipsoak_engine::names::{Channel, LeakCase, Quantile};
use slipsoak_engine::oil_plan::{Lasts, OilPlan};
use slipsoak_engine::parts::{Parameter, in_words, parameter, settings};
use slipsoak_engine::record::{Run, Setting};
use slipsoak_engine::retraced::Retraced;
use slipsoak_engine::season::{Outcome, SPARES, Season};
use slipsoak_engine::sensitivity::{Influences, Ranking};
use slipsoak_engine::spring_choice::{Choice, Judged};
use slipsoak_engine::stack_up::{Course, Gaps};
use slipsoak_engine::sweep::{Row, Sweep};
use slipsoak_engine::units::{HOUR, RPM, THOU};

/// What stands in both results: its name, and how it is in each.
type Twins<'a, T> = Vec<(String, [&'a T; 2])>;

/// Items of one name.
fn twins<'a, T>([first, second]: [&'a [T]; 2], name: impl Fn(&T) -> String) -> Twins<'a, T> {
    let twin = |a: &'a T| Some((name(a), [a, second.iter().find(|b| name(b) == name(a))?]));
    first.iter().filter_map(twin).collect()
}

/// A measure of these; none if neither result holds a value.
fn measure<T>(
    heading: &str,
    words: fn(f64) -> String,
    of: &Twins<'_, T>,
    value: impl Fn(&T) -> Option<f64>,
) -> Measure {
    let rows = of.iter().map(|(name, both)| (name.clone(), both.map(&value))).collect();
    Measure { heading: heading.to_owned(), words, from_zero: false, limit: None, rows }
}

impl Measure {
    /// With a scale that begins at zero.
    fn zero_based(self) -> Self {
        Self { from_zero: true, ..self }
    }

    /// With a limit of this name.
    fn limit(self, at: Option<f64>, name: &'static str) -> Self {
        Self { limit: at.map(|at| (at, name)), ..self }
    }

    /// Whether it tells anything: a value that is not zero throughout.
    fn tells(&self) -> bool {
        self.rows.iter().flat_map(|row| row.1).flatten().any(|value| value != 0.0)
    }
}

const LIFE: &str = "life, h the motor runs";

fn hours(hours: f64) -> String {
    say::lasts(HOUR * hours)
}

fn degrees(celsius: f64) -> String {
    scales::pair(&format!("{celsius:.0}"), &format!("{:.0}", 1.8 * celsius + 32.0))
}

fn percent(share: f64) -> String {
    format!("{}\u{a0}%", figures(share, 3))
}

fn turns(rpm: f64) -> String {
    say::turns(RPM * rpm).replace('-', "−")
}

fn gap(mm: f64) -> String {
    format!("{mm:.2}\u{a0}mm ({:.1}\u{a0}thou)", 1e-3 * mm / THOU)
}

fn heat(kilojoules: f64) -> String {
    format!("{}\u{a0}kJ", figures(kilojoules, 3))
}

fn plain(value: f64) -> String {
    figures(value, 3)
}

/// A setting of a result.
fn setting(settings: &[Setting], of: &'static Parameter) -> Option<f64> {
    settings.iter().find(|setting| setting.path == of.path).map(|setting| setting.value)
}

/// The measures of two results of one kind; `pairs`: runs that stand in both records. Empty if nothing stands in both, and of
/// kinds that hold no answer, a machine's sheet.
pub fn measures(results: [&Saved; 2], pairs: &[Pair<'_>]) -> Vec<Measure> {
    let mut all = match results {
        [Saved::Record(_), Saved::Record(_)] => of_records(pairs),
        [Saved::Choice(a), Saved::Choice(b)] => of_choices(a, b),
        [Saved::Gaps(a), Saved::Gaps(b)] => of_gaps(a, b),
        [Saved::Oiling(a), Saved::Oiling(b)] => of_plans(a, b),
        [Saved::Season(a), Saved::Season(b)] => of_seasons(a, b),
        [Saved::Measure(a), Saved::Measure(b)] => of_measuring(a, b),
        [Saved::Fleet(a), Saved::Fleet(b)] => of_fleets(a, b),
        [Saved::Sweep(a), Saved::Sweep(b)] => of_sweeps(a, b),
        [Saved::Influence(a), Saved::Influence(b)] => of_influences(a, b),
        [Saved::Told(a), Saved::Told(b)] => of_calibrations(&a.calibration, &b.calibration),
        [Saved::Retraced(a), Saved::Retraced(b)] => of_rides(a, b),
        _ => vec![],
    };
    all.retain(Measure::tells);
    all
}

fn of_records(pairs: &[Pair<'_>]) -> Vec<Measure> {
    let of: Twins<'_, Run> = pairs.iter().map(|pair| (pair.name.clone(), [pair.first, pair.second])).collect();
    let limit = |of: &'static Parameter| setting(&pairs.first()?.second.settings, of);
    let lining = measure(&scales::titled("peak of the lining"), degrees, &of, |run| {
        peak(run, Channel::LiningSurface).map(celsius)
    });
    let bushing =
        measure(&scales::titled("peak of the bushing"), degrees, &of, |run| peak(run, Channel::Bushing).map(celsius));
    let oil = measure("oil fill at the end, %", percent, &of, |run| fill(run).map(|fill| 100.0 * fill));
    vec![
        measure(LIFE, hours, &of, |run| end(run).map(|end| end.running / HOUR)).zero_based(),
        lining.limit(limit(&settings::limits::lining_most).map(celsius), "limit"),
        bushing.limit(limit(&settings::limits::bushing_warning).map(celsius), "limit"),
        oil.limit(limit(&settings::limits::oil_service).map(|fill| 100.0 * fill), "service due"),
    ]
}

fn of_choices(a: &Choice, b: &Choice) -> Vec<Measure> {
    let of = twins([&a.springs, &b.springs], |spring| spring.name.clone());
    let found = |value: fn(&slipsoak_engine::spring_choice::Found) -> Option<f64>| {
        move |spring: &Judged| spring.found.as_ref().and_then(value)
    };
    vec![
        measure(LIFE, hours, &of, found(|f| f.life.map(|life| life / HOUR))).zero_based(),
        measure("margin over the highest idle, rpm", turns, &of, |spring: &Judged| {
            spring.margin().map(|margin| margin / RPM)
        })
        .limit(Some(0.0), "drags below"),
        measure(&scales::titled("peak of the lining"), degrees, &of, found(|f| Some(celsius(f.peaks.lining))))
            .limit(Some(celsius(b.lining_most)), "limit"),
    ]
}

fn of_gaps(a: &Gaps, b: &Gaps) -> Vec<Measure> {
    let of = twins([&a.courses, &b.courses], |course| format!("bushing {}", course.name));
    let new = vec![("least when new".to_owned(), [a, b])];
    let due = |course: &Course| course.washer_due.time.filter(|_| course.holds()).map(|due| due / HOUR);
    vec![
        measure("least gap under the cover, mm", gap, &new, |gaps| Some(1e3 * (gaps.stack.nominal - gaps.stack.worst)))
            .limit(Some(1e3 * b.limit), "required"),
        measure("riding until the washer is due, h", hours, &of, due).zero_based(),
        measure(&scales::titled("peak of the washer"), degrees, &of, |course| Some(celsius(course.washer)))
            .limit(setting(&b.settings, &settings::limits::washer_oiled).map(celsius), "limit"),
    ]
}

fn of_plans(a: &OilPlan, b: &OilPlan) -> Vec<Measure> {
    let case = |lasts: &Lasts| {
        let words = match lasts.name {
            LeakCase::AsSet => "as set",
            LeakCase::Least => "at best",
            LeakCase::Most => "at worst",
            LeakCase::Greased => "as set, with grease",
        };
        words.to_owned()
    };
    let of = twins([&a.lasts, &b.lasts], case);
    let wall = vec![("for the worst case".to_owned(), [&a.advised_at_most_leak, &b.advised_at_most_leak])];
    vec![
        measure("riding between oilings, h", hours, &wall, |advice| advice.habit().map(|h| h.riding / HOUR))
            .zero_based(),
        measure("riding until service is due, h", hours, &of, |lasts| lasts.due.map(|due| due / HOUR)).zero_based(),
    ]
}

fn of_seasons(a: &Season, b: &Season) -> Vec<Measure> {
    let of = twins([&a.policies, &b.policies], |outcome| season::policy(&outcome.policy));
    let needs = SPARES.into_iter().enumerate().map(|(k, part)| {
        let needed = move |outcome: &Outcome| outcome.needs.get(k).map(|need| need.nine_tenths as f64);
        measure(&format!("parts for 9 of 10 seasons: {part}"), plain, &of, needed).zero_based()
    });
    let down = measure("cart-days lost, on average", plain, &of, |outcome| Some(outcome.down.mean)).zero_based();
    needs.chain([down]).collect()
}

fn of_measuring(a: &MeasurePlan, b: &MeasurePlan) -> Vec<Measure> {
    let of = twins([&a.candidates, &b.candidates], |candidate: &Candidate| candidate.method.to_string());
    vec![
        measure("what is left open, times or divided by", plain, &of, |c| Some(measuring::factor(c.deviation))),
        measure("chance that it changes the advice, %", percent, &of, |c| Some(100.0 * c.change)).zero_based(),
    ]
}

fn of_fleets(a: &Report, b: &Report) -> Vec<Measure> {
    let of = twins([&a.fleets, &b.fleets], |fleet: &Fleet| format!("{}, {}", fleet.variant, fleet.duty));
    let by = |heading: &str, which, oil: bool| {
        let hours_of = move |fleet: &Fleet| {
            let set = if oil { &fleet.service_running } else { &fleet.end_running };
            milestone(set, which).estimate.map(|time| time / HOUR)
        };
        measure(heading, hours, &of, hours_of).zero_based()
    };
    vec![
        by("a tenth have a part worn out after, h the motor runs", Quantile::B10, false),
        by("half have a part worn out after, h the motor runs", Quantile::B50, false),
        by("the oil of a tenth is due after, h the motor runs", Quantile::B10, true),
    ]
}

fn of_sweeps(a: &Sweep, b: &Sweep) -> Vec<Measure> {
    let named = |sweep: &Sweep| -> Vec<(String, Row)> {
        let labels = |row: &Row| -> Vec<String> {
            row.place.iter().zip(&sweep.axes).map(|(k, axis)| axis.labels[*k].clone()).collect()
        };
        sweep.rows.iter().map(|row| (labels(row).join(", "), row.clone())).collect()
    };
    let [first, second] = [named(a), named(b)];
    let of = twins([&first, &second], |row| row.0.clone());
    let limit = b.rows.iter().find_map(|row| row.summary.lining_limit);
    let lining =
        measure(&scales::titled("peak of the lining"), degrees, &of, |(_, row)| Some(celsius(row.summary.lining_peak)));
    vec![
        measure(LIFE, hours, &of, |(_, row)| row.summary.running.map(|life| life / HOUR)).zero_based(),
        lining.limit(limit.map(celsius), "limit"),
    ]
}

fn of_influences(a: &Influences, b: &Influences) -> Vec<Measure> {
    let of = twins([&a.rankings, &b.rankings], |ranking: &Ranking| format!("{}, {}", ranking.variant, ranking.duty));
    vec![
        measure("life as set, h", hours, &of, |ranking| ranking.nominal.end.map(|life| life / HOUR)).zero_based(),
        measure(&scales::titled("peak of the lining as set"), degrees, &of, |ranking| {
            Some(celsius(ranking.nominal.lining_peak))
        }),
    ]
}

fn of_calibrations(a: &Calibration, b: &Calibration) -> Vec<Measure> {
    let of = twins([&a.constants, &b.constants], |learned: &Learned| in_words(&learned.path).to_owned());
    let over = |learned: &Learned| Some(learned.value / parameter(&learned.path)?.default);
    vec![measure("learned value, times the default", plain, &of, over).zero_based().limit(Some(1.0), "default")]
}

fn of_rides(a: &Retraced, b: &Retraced) -> Vec<Measure> {
    let of = vec![("the ride".to_owned(), [a, b])];
    vec![
        measure("slip energy, kJ", heat, &of, |ride| Some(ride.heat.1 / 1e3)).zero_based(),
        measure(&scales::titled("peak of the lining"), degrees, &of, |ride| Some(celsius(ride.lining)))
            .limit(Some(celsius(b.lining_most)), "limit"),
        measure("launches", plain, &of, |ride| Some(ride.launches.len() as f64)).zero_based(),
    ]
}
