//! Saved results that were damaged: every index and every length that drawing relies on is checked when a result is read.

use crate::output::Saved;
use crate::shop::Answer;
use slipsoak_engine::calibrate::Told;
use slipsoak_engine::fleet::Report;
use slipsoak_engine::names::{Channel, Part};
use slipsoak_engine::record::{Column, Record, Run};
use slipsoak_engine::sweep::Sweep;

/// Numbers beyond this are none that a run gives.
const BEYOND: f64 = 1e100;

/// What is damaged, or nothing.
pub fn check(saved: &Saved) -> Result<(), String> {
    match saved {
        Saved::Record(record) => of_record(record),
        Saved::Fleet(report) => of_fleets(report),
        Saved::Sweep(sweep) => of_sweep(sweep),
        Saved::Influences(influences) => {
            let all = influences.rankings.iter();
            let numbers = all.flat_map(|r| {
                let ends = r.influences.iter().flat_map(|i| [&i.low, &i.high]);
                let answers = ends.chain([&r.nominal]);
                let found = answers.flat_map(|a| [a.end, a.service_due, Some(a.lining_peak)]);
                let moved = r.influences.iter().flat_map(|i| &i.settings).flat_map(|m| [m.low, m.nominal, m.high]);
                found.chain([r.horizon]).flatten().chain(moved).collect::<Vec<_>>()
            });
            filled(&influences.rankings, "rankings")?;
            let ends = influences.rankings.iter().flat_map(|r| {
                r.influences.iter().flat_map(|i| [&i.low, &i.high]).chain([&r.nominal]).map(|a| a.ended_by)
            });
            oil_apart(ends, "rankings")?;
            sound(numbers, "rankings")
        }
        Saved::Answer(Answer::Choice(choice)) => {
            filled(&choice.springs, "springs")?;
            let known = |name: &String| choice.springs.iter().any(|s| s.name == *name);
            let named = [choice.best.as_ref(), choice.best_steady.as_ref()].into_iter().flatten();
            require(named.into_iter().all(known), "best", "it names no spring of the list")?;
            sound(choice.springs.iter().map(|s| s.engagement), "springs.engagement")
        }
        Saved::Answer(Answer::Gaps(gaps)) => {
            filled(&gaps.layers, "layers")?;
            filled(&gaps.courses, "courses")?;
            require(gaps.courses.iter().all(|c| !c.points.is_empty()), "courses.points", "it is empty")?;
            let points = gaps.courses.iter().flat_map(|c| &c.points);
            sound(points.flat_map(|p| [p.time].into_iter().chain(p.washer).chain(p.gap)), "courses.points")
        }
        Saved::Answer(Answer::Oiling(plan)) => {
            filled(&plan.lasts, "lasts")?;
            filled(&plan.habits, "habits")?;
            let curves = plan.lasts.iter().flat_map(|l| &l.fill).chain(plan.habits.iter().flat_map(|h| &h.kept));
            sound(curves.flat_map(|p| [p.0, p.1]), "lasts.fill, habits.kept")
        }
        Saved::Told(told) => of_told(told),
        Saved::Retraced(ridden) => {
            require(ridden.speeds.len() > 1, "speeds", "it has fewer than two rows")?;
            let rising = ridden.speeds.windows(2).all(|w| w[1].0 > w[0].0);
            require(rising, "speeds", "its times do not rise")?;
            sound(ridden.speeds.iter().flat_map(|s| [s.0, s.1, s.2]), "speeds")?;
            sound(ridden.launches.iter().flat_map(|l| [l.time, l.slipped, l.energy]), "launches")?;
            sound(ridden.classes.iter().flat_map(|c| [c.0, c.1]), "classes")
        }
    }
}

fn require(whole: bool, what: &str, why: &str) -> Result<(), String> {
    if whole { Ok(()) } else { Err(format!("`{what}` is damaged: {why}")) }
}

/// Refuses lives that end with the oil: since it is set apart, at its limit it is due for service, and the clutch goes on.
fn oil_apart(ends: impl IntoIterator<Item = Option<Part>>, what: &str) -> Result<(), String> {
    let counted = ends.into_iter().any(|part| part == Some(Part::Oil));
    let why = "a life in it ends with the oil, as an earlier version counted; today the oil is set apart, so that its lives cannot be read";
    if counted { Err(format!("`{what}` is outdated: {why}")) } else { Ok(()) }
}

fn filled<T>(list: &[T], what: &str) -> Result<(), String> {
    require(!list.is_empty(), what, "it is empty")
}

fn sound(numbers: impl IntoIterator<Item = f64>, what: &str) -> Result<(), String> {
    require(numbers.into_iter().all(|v| v.abs() < BEYOND), what, "a number in it is none that a run gives")
}

fn of_record(record: &Record) -> Result<(), String> {
    require(record.channels == Column::all(), "channels", "they are not those of this version, in their order")?;
    for run in &record.runs {
        let of = |what: &str| format!("{what} of run {}, {}", run.variant, run.duty);
        let (w, ends) = (&run.windows, run.windows.end.len());
        let rows = [&w.least, &w.mean, &w.most];
        require(rows.iter().all(|rows| rows.len() == ends), &of("windows"), "its rows are not as many as its ends")?;
        let sets =
            run.segments.iter().map(|s| &s.extremes).chain([&run.overall]).flat_map(|e| [&e.least, &e.mean, &e.most]);
        let moments = run.moments.iter().map(|m| &m.values);
        let close = run.close_up.iter().flat_map(|c| &c.rows);
        let all = rows.into_iter().flatten().chain(sets).chain(moments).chain(close);
        require(all.clone().all(|row| row.len() == Channel::COUNT), &of("a row"), "it does not hold every channel")?;
        sound(all.flatten().copied(), &of("a row"))?;
        sound(w.end.iter().copied().chain([run.duration]), &of("windows.end"))?;
        let close = run.close_up.iter().all(|c| c.time.len() == c.rows.len());
        require(close, &of("close_up"), "its rows are not as many as its times")?;
        of_run(run, &of)?;
    }
    Ok(())
}

fn of_run(run: &Run, of: &impl Fn(&str) -> String) -> Result<(), String> {
    let e = &run.engagement;
    let alike = [&e.motor, &e.capacity, &e.load].iter().all(|column| column.len() == e.speed.len());
    require(alike && e.speed.len() > 1, &of("engagement"), "its columns are not of one length")?;
    let ends = run.windows.end.len();
    let curves = run.parts.iter().all(|p| p.curve.len() == ends || p.curve.is_empty());
    require(curves, &of("parts.curve"), "it has not a value for each window")?;
    sound(run.parts.iter().flat_map(|p| p.curve.iter().copied().chain([p.used]).chain(p.life)), &of("parts"))?;
    if let Some(horizon) = &run.horizon {
        oil_apart([horizon.ended_by], &of("horizon.ended_by"))?;
        let parts = run.parts.len();
        let used = horizon.points.iter().all(|p| p.used.len() == parts);
        require(used, &of("horizon.points"), "a point has not a use for each part")?;
        require(horizon.ends.len() == parts, &of("horizon.ends"), "it has not a time for each part")?;
    }
    Ok(())
}

fn of_fleets(report: &Report) -> Result<(), String> {
    filled(&report.fleets, "fleets")?;
    for fleet in &report.fleets {
        let of = |what: &str| format!("{what} of {}, {}", fleet.variant, fleet.duty);
        filled(&fleet.outcomes, &of("outcomes"))?;
        oil_apart(fleet.outcomes.iter().map(|o| o.ended_by), &of("outcomes.ended_by"))?;
        for (set, what) in [
            (&fleet.end, "end"),
            (&fleet.end_running, "end_running"),
            (&fleet.service, "service"),
            (&fleet.service_running, "service_running"),
        ] {
            filled(set, &of(what))?;
        }
        let times = fleet.times.len();
        require(times > 1 && fleet.bands.len() == times, &of("bands"), "it has not a row for each time")?;
        let left = fleet.outcomes.iter().all(|o| o.left.len() == times);
        require(left, &of("outcomes.left"), "it has not a value for each time")?;
        let curves = fleet
            .times
            .iter()
            .copied()
            .chain(fleet.bands.iter().flatten().copied())
            .chain([fleet.horizon, fleet.running_share]);
        sound(curves, &of("bands"))?;
        sound(
            fleet
                .outcomes
                .iter()
                .flat_map(|o| [o.end, o.running, o.service_due, o.service_running, Some(o.running_share)])
                .flatten(),
            &of("outcomes"),
        )?;
    }
    Ok(())
}

fn of_sweep(sweep: &Sweep) -> Result<(), String> {
    filled(&sweep.rows, "rows")?;
    for axis in &sweep.axes {
        let labelled = !axis.labels.is_empty() && (axis.values.is_empty() || axis.values.len() == axis.labels.len());
        require(labelled, &format!("axes, {}", axis.name), "its labels are not as many as its values")?;
        sound(axis.values.iter().copied(), &format!("axes, {}", axis.name))?;
    }
    let placed = |place: &Vec<usize>| {
        place.len() == sweep.axes.len() && place.iter().zip(&sweep.axes).all(|(at, axis)| *at < axis.labels.len())
    };
    require(sweep.rows.iter().all(|r| placed(&r.place)), "rows.place", "it lies beyond the axes")?;
    oil_apart(sweep.rows.iter().map(|r| r.summary.ended_by), "rows.summary.ended_by")?;
    let found = sweep.rows.iter().map(|r| &r.summary);
    let numbers = found.flat_map(|s| [Some(s.lining_peak), Some(s.slip_power), s.slip_energy, s.life, s.service_due]);
    sound(numbers.flatten(), "rows.summary")
}

fn of_told(told: &Told) -> Result<(), String> {
    let c = &told.calibration;
    filled(&c.constants, "constants")?;
    let square =
        c.correlation.len() == c.constants.len() && c.correlation.iter().all(|row| row.len() == c.constants.len());
    require(square, "correlation", "it has not a row and a column for each constant")?;
    sound(c.constants.iter().flat_map(|l| [l.before, l.value]), "constants")?;
    for e in &told.evidence {
        let of = format!("evidence, {}", e.name);
        filled(&e.readings, &of)?;
        require(e.curve.len() > 1, &of, "its curve has fewer than two points")?;
        let readings = e.readings.iter().flat_map(|r| [r.at, r.value, r.scatter]);
        sound(readings.chain(e.curve.iter().flatten().copied()), &of)?;
    }
    Ok(())
}
