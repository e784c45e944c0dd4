//! What to measure: for each measurement the range as known today, pale, and the range expected afterwards, dark.

use crate::sheet::prelude::*;
use crate::words::measuring::{self, factor};
use crate::words::number::figures;
use crate::words::text::the;
use slipsoak_engine::measure_plan::{Candidate, MeasurePlan, Pair};

/// Height of a row, of what stands above and below the rows, px.
const ROW: f64 = 30.0;
const ABOVE: f64 = 40.0;
const BELOW: f64 = 54.0;
/// Width of names, and of the numbers at the right, px.
const NAMES: f64 = 264.0;
const NUMBERS: f64 = 190.0;
/// Half heights of the pale and the dark bar, px.
const BARS: (f64, f64) = (9.0, 5.0);

/// A row: name, deviation, minutes, chance that the advice changes.
struct Bar {
    name: String,
    deviation: f64,
    minutes: f64,
    /// none if it does not stand out from chance
    change: Option<f64>,
    best: bool,
}

/// The best two together, if there are any.
fn pair(plan: &MeasurePlan) -> Option<(Pair, [&Candidate; 2])> {
    let pair = plan.pair?;
    let [a, b] = pair.of.map(|k| plan.candidates.get(k as usize));
    Some((pair, [a?, b?]))
}

fn bars(plan: &MeasurePlan) -> Vec<Bar> {
    let one = |(k, c): (usize, &Candidate)| Bar {
        name: if c.wait > 0.0 { format!("{}, {:.0} h", c.method, c.wait / 3600.0) } else { c.method.to_string() },
        deviation: c.deviation,
        minutes: c.minutes,
        change: c.is_sure().then_some(c.change),
        best: plan.best == Some(k as u64),
    };
    let mut all: Vec<Bar> = plan.candidates.iter().enumerate().map(one).collect();
    let pair = pair(plan).map(|(pair, [a, b])| Bar {
        name: "best two together".to_owned(),
        deviation: pair.deviation,
        minutes: a.minutes + b.minutes,
        change: Some(pair.change),
        best: false,
    });
    all.extend(pair);
    all
}

/// What the figure shows, in one line.
fn found(plan: &MeasurePlan) -> String {
    plan.recommended().map_or_else(
        || format!("No measurement on {} changes the choice enough", the(&plan.machine)),
        |best| {
            let [before, after] = [plan.prior.deviation, best.deviation].map(|d| figures(factor(d), 2));
            let act = measuring::act(best.method);
            if before == after {
                format!("{act}: it changes the advice in {:.0} of 100 cases", 100.0 * best.change)
            } else {
                format!("{act}: the answer is then known to × or ÷ {after} in place of {before}")
            }
        },
    )
}

pub fn draw(plan: &MeasurePlan, look: &Look) -> Result<Drawing, DrawError> {
    let bars = bars(plan);
    if bars.is_empty() {
        return Err(DrawError::Empty);
    }
    let narrow = look.narrow();
    let row = if narrow { 2.0 * ROW } else { ROW };
    let height = HEAD + ABOVE + row * bars.len() as f64 + BELOW + FOOT;
    let heading = found(plan);
    let two = pair(plan).map(|(_, [a, b])| format!(" Best two: {}; {}.", a.method, b.method)).unwrap_or_default();
    let untold = if bars.iter().any(|bar| bar.change.is_none()) {
        format!(" {}", measuring::untold(plan))
    } else {
        String::new()
    };
    let note = format!(
        "Pale: {} as known today, 9 of 10 clutches; dark: width expected after the measurement. Where the dark range will lie only the reading tells. Assumed: ranges of the constants, errors of the gauges.{two}{untold}",
        measuring::subject(plan)
    );
    let describe = "A row for each measurement: the range known today, the range expected afterwards, as factors either way; at the right minutes of work and in how many of 100 cases the advice changes.";
    sheet(look, height, [&heading, &look.under(&note), describe], |sheet| {
        let (left, right) =
            (if narrow { SIDE + 8.0 } else { NAMES + SIDE }, sheet.width - SIDE - if narrow { 132.0 } else { NUMBERS });
        let (top, floor) = (HEAD + ABOVE, HEAD + ABOVE + row * bars.len() as f64);
        let widest = factor(plan.prior.deviation) * 1.1;
        let axis = Axis::logarithmic((1.0 / widest, widest), (left, right));
        let tick = Type::TICK;
        let steps = [1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0];
        let both = steps.into_iter().filter(|f| *f <= widest).flat_map(|f| {
            let own = (f, if f == 1.0 { "1".to_owned() } else { format!("× {f:.0}") });
            let other = (f > 1.0).then(|| (1.0 / f, format!("÷ {f:.0}")));
            [Some(own), other].into_iter().flatten()
        });
        let mut ticks: Vec<(f64, String)> = both.collect();
        ticks.sort_by(|a, b| a.0.total_cmp(&b.0));
        let ticks = thinned(&axis, ticks, tick)?;
        ruler::below(sheet, &axis, &ticks, floor, Some(top - 4.0), "factor on the middle (log scale)")?;
        let (minutes, change) = if narrow { (right + 46.0, right + 128.0) } else { (right + 70.0, right + 170.0) };
        sheet.text("minutes", (minutes, top - 18.0), tick.side(1))?;
        sheet.text(if narrow { "changes" } else { "advice changes" }, (change, top - 18.0), tick.side(1))?;
        for (k, bar) in bars.iter().enumerate() {
            let y = top + row * (k as f64 + if narrow { 0.72 } else { 0.5 });
            let set = Type::LABEL.bold(bar.best);
            if narrow {
                sheet.on_paper(&fit(&bar.name, set, right - left)?, (left, y - 0.45 * row), set)?;
            } else {
                sheet.fitted(&bar.name, (left - 12.0, y), set.side(1), NAMES - 16.0)?;
            }
            let reach = |deviation: f64| (axis.within(1.0 / factor(deviation)), axis.within(factor(deviation)));
            let ink = colour(hues::MOTOR);
            for (deviation, half, ink) in [(plan.prior.deviation, BARS.0, ink.tint(0.25)), (bar.deviation, BARS.1, ink)]
            {
                let (from, until) = reach(deviation);
                let said = format!("{}: × or ÷ {}", bar.name, figures(factor(deviation), 2));
                sheet.says(&said, || sheet.bar((from, y - half), (until, y + half), ink))?;
            }
            sheet.text(&format!("{:.0}", bar.minutes), (minutes, y), set.side(1))?;
            let changes = bar.change.map_or_else(|| "–".to_owned(), |change| format!("{:.0} of 100", 100.0 * change));
            sheet.text(&changes, (change, y), set.side(1))?;
        }
        Ok(())
    })
}
