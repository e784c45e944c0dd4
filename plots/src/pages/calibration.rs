//! The page of a calibration: what worn parts and logs show on a machine's constants, and what remains undetermined.

use crate::figures::Drawn;
use crate::page::picture::pictures;
use crate::page::{Block, Cell, Head, Page, Reach, Row, Section, Table};
use crate::pages::origin::closing;
use crate::words::calibration::{answer, delay, lag, left, life, open, range, value};
use crate::words::measure::measured_by;
use crate::words::number::three;
use crate::words::reading::asked;
use crate::words::say::time;
use crate::words::text::listed;
use slipsoak_engine::calibrate::{Calibration, Forecast, Learned, Thermocouple, Told};
use slipsoak_engine::parts::{Parameter, in_words};
use slipsoak_engine::statistics::{Bounds, NINETY_FIVE};

impl Page {
    /// The page of a calibration.
    pub(crate) fn of_calibration(told: &Told, figures: Drawn) -> Self {
        let c = &told.calibration;
        let files: Vec<String> = c.data.iter().map(|s| s.file.clone()).collect();
        let mut results = vec![Block::Table(constants(c))];
        results.extend(told.forecast.iter().map(|f| Block::Table(lives(f))));
        if !c.running_in.is_empty() {
            results.push(Block::Table(running_in(c)).only(Reach::Details));
        }
        if !c.thermocouples.is_empty() {
            results.push(Block::Table(thermocouples(c)).only(Reach::Details));
        }
        if c.constants.len() > 1 {
            results.push(Block::Table(correlation(c)).only(Reach::Details));
        }
        let told_to_scripts =
            "`calibration.json`, which it writes beside this page, is what `calibrated(…)` reads in a script.".into();
        let open = vec![Block::List(open(c)), Block::Table(unlearned(c))];
        let mut sections = vec![
            pictures(figures),
            Section::new("Results", results),
            Section::new("What these data leave undetermined", open).only(Reach::Details),
            Section::new("The data", vec![Block::Table(sources(c))]),
        ];
        sections.extend(closing(&c.head, &[], vec![told_to_scripts]));
        Self {
            question: asked(&c.head),
            given: format!("Machine: {}", c.machine),
            origin: format!(
                "{}: constants of the {} learned from {}, by {}",
                c.head.script,
                c.machine,
                listed(&files),
                c.head.program
            ),
            answer: answer(told),
            sections,
            ..Self::default()
        }
    }
}

fn constants(c: &Calibration) -> Table {
    let heads = vec![
        Head::words("constant"),
        Head::words("before"),
        Head::words("learned"),
        Head::words("90 % within"),
        Head::of("learned / before", "").spare(12),
        Head::of("spread between clutches, ÷ or ×", "").spare(2),
        Head::of("for a new clutch, ÷ or ×", "").spare(13),
        Head::words("from").spare(14),
    ];
    let row = |l: &Learned| {
        [
            in_words(&l.path).into(),
            format!("{} (÷ or × {})", value(l, l.before), three(l.before_factor)).into(),
            value(l, l.value).into(),
            range(l, l.value, l.factor).into(),
            Cell::Number(three(l.value / l.before)),
            if l.clutches_factor > 1.0 { Cell::Number(three(l.clutches_factor)) } else { "none seen".into() },
            Cell::Number(three(l.spread)),
            l.from.join(", ").into(),
        ]
    };
    Table::new("What was learned", heads, c.constants.iter().map(row))
        .note("Before: the machine's value, and the factor within which 90 % of what was thought possible lies.")
}

fn lives(f: &Forecast) -> Table {
    let heads = Head::row("clutches with a worn part | before | before, 90 % bounds | after | after, 90 % bounds");
    let bounds = |b: &Bounds| match (b.low, b.high) {
        (None, None) => Cell::Nothing,
        (low, high) => {
            let low = low.map_or_else(|| "–".to_owned(), time);
            format!("{low} to {}", high.map_or_else(|| "–".to_owned(), time)).into()
        }
    };
    let row = |(k, name): (usize, &str)| {
        [
            name.into(),
            life(f.before[k].estimate, f.horizon).into(),
            bounds(&f.before[k]),
            life(f.after[k].estimate, f.horizon).into(),
            bounds(&f.after[k]),
        ]
    };
    let rows = ["10 % (B10)", "50 % (B50)", "90 % (B90)"].into_iter().enumerate().map(row);
    Table::new(format!("Lives of {} clutches under “{}”", f.clutches, f.duty), heads, rows)
        .note("Order statistics, for any distribution; – where so few clutches, or the horizon, leave a bound open.")
}

fn running_in(c: &Calibration) -> Table {
    let heads = Head::row("part | depth [µm] | ± (90 %) [µm]");
    let um = |v: f64| Cell::Number(three(1e6 * v));
    let row =
        |r: &slipsoak_engine::calibrate::RunningIn| [r.part.clone().into(), um(r.depth), um(NINETY_FIVE * r.error)];
    Table::new("What running in took", heads, c.running_in.iter().map(row))
        .note("Fitted along with the constants; below nothing, as far as its error reaches, means none was seen.")
}

fn thermocouples(c: &Calibration) -> Table {
    let heads = Head::row("thermocouple | log | clock as the duty starts (90 %) | lag (90 %) | reads too high by [K]");
    let row = |t: &Thermocouple| {
        [
            t.place.name().into(),
            t.file.clone().into(),
            delay(t.clock, t.clock_error).into(),
            lag(t).into(),
            Cell::Number(three(t.offset)),
        ]
    };
    Table::new("What the thermocouples show of themselves", heads, c.thermocouples.iter().map(row))
        .note("Fitted along with the constants, and allowed for. Assumed beforehand: clock within 1 s, lag 3 s, offset 2 K (standard deviations).")
}

fn unlearned(c: &Calibration) -> Table {
    let heads = Head::row("constant | ÷ or × | what to measure");
    let row = |(p, factor): (&'static Parameter, f64)| {
        [p.name.into(), Cell::Number(three(factor)), measured_by(p).map_or(Cell::Nothing, Cell::from)]
    };
    Table::new("Not learned, and as uncertain as before", heads, left(c).map(row))
        .note("Names in backticks are columns of inspections or logs.")
}

fn correlation(c: &Calibration) -> Table {
    let heads = c.constants.iter().map(|l| Head::of(in_words(&l.path), ""));
    let row = |(l, values): (&Learned, &Vec<f64>)| {
        let cells = values.iter().map(|r| Cell::Number(format!("{r:.2}").replace('-', "−")));
        Row::from(std::iter::once(in_words(&l.path).into()).chain(cells))
    };
    let rows = c.constants.iter().zip(&c.correlation).map(row);
    Table::new("Correlation of the errors", std::iter::once(Head::words("constant")).chain(heads), rows)
        .note("Near 1 or −1 the data determine both together better than each; where they cannot be separated, the fit is refused.")
}

fn sources(c: &Calibration) -> Table {
    let heads = vec![
        Head::words("file"),
        Head::words("duty"),
        Head::of("readings used", ""),
        Head::of("set aside", ""),
        Head::words("SHA-256").only(Reach::Page),
    ];
    let row = |s: &slipsoak_engine::calibrate::Source| {
        [
            s.file.clone().into(),
            s.duty.clone().into(),
            Cell::Number(s.used.to_string()),
            Cell::Number(s.set_aside.to_string()),
            s.hash.clone().into(),
        ]
    };
    Table::new("What was measured", heads, c.data.iter().map(row))
}
