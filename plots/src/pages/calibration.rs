//! The page of a calibration: what worn parts and logs show on a machine's constants, and what remains undetermined.

use crate::figures::Drawn;
use crate::page::picture::pictures;
use crate::page::{Block, Cell, Head, Page, Reach, Row, Section, Table};
use crate::pages::origin::{cautions, repeated, scripted};
use crate::words::number::{quantity, three, time};
use crate::words::reading::asked;
use crate::words::say;
use crate::words::text::Words;
use crate::words::text::listed;
use slipsoak_engine::calibrate::{Calibration, Forecast, Learned, Told, strongest};
use slipsoak_engine::fleet::{ASSUMED, Spread};
use slipsoak_engine::parts::{in_words, parameter};
use slipsoak_engine::statistics::{Bounds, NINETY_FIVE};
use slipsoak_engine::units::HOUR;

/// Factor up to which widened errors agree with the stated ones.
const AGREES: f64 = 1.05;
/// Number of constants that the answer lists one by one.
const TOLD: usize = 5;

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
        if c.constants.len() > 1 {
            results.push(Block::Table(correlation(c)).only(Reach::Details));
        }
        let facts = vec![
            Words::from(format!(
                "Written by {}; the same version gives the same numbers on any number of threads.",
                c.head.program
            )),
            Words::from(format!("SHA-256 of the script: {}", c.head.script_hash)),
            Words::from(format!("Seed of the searches' starts: {}.", c.head.seeds_listed())),
            "`calibration.json`, which it writes beside this page, is what `calibrated(…)` reads in a script.".into(),
        ];
        Self {
            question: asked(&c.head),
            origin: format!(
                "{}: constants of the {} learned from {}, by {}",
                c.head.script,
                c.machine,
                listed(&files),
                c.head.program
            ),
            answer: answer(told),
            sections: vec![
                Section::new("Figures", pictures(figures)),
                Section::new("Results", results),
                Section::new("What these data leave undetermined", vec![Block::List(open(c))]).only(Reach::Details),
                Section::new("The data", vec![Block::Table(sources(c))]),
                cautions(&[]),
                scripted(&c.head),
                repeated(&c.head, facts),
            ],
            ..Self::default()
        }
    }
}

/// A value of a constant with its unit.
fn value(learned: &Learned, value: f64) -> String {
    let shown = parameter(&learned.path).map(|p| quantity(value, p.dimension));
    match shown {
        Some(Cell::Words(words)) => words.text(),
        Some(Cell::Number(number)) => number,
        _ => format!("{}\u{a0}{}", three(value), learned.unit),
    }
}

/// The range within a factor of a value.
fn range(learned: &Learned, of: f64, factor: f64) -> String {
    format!("{} to {}", value(learned, of / factor), value(learned, of * factor))
}

fn answer(told: &Told) -> Vec<Words> {
    let c = &told.calibration;
    let mut said: Vec<Words> = c.constants.iter().take(TOLD).map(|l| sentence(l).capital()).collect();
    if c.constants.len() > TOLD {
        said.push(format!("{} more constants stand in the table.", c.constants.len() - TOLD).into());
    }
    said.extend(told.forecast.as_ref().map(narrowed));
    let q = &c.quality;
    let mut doubt = Words::from(
        "These are 90 % intervals. They hold only if the machine, the duty and the units are what the script says",
    );
    doubt = if q.widened > AGREES {
        doubt
            .plain("; readings scatter ")
            .strong(format!("{} times", three(q.widened)))
            .plain(" what was stated for them, and the ranges were widened by that.")
    } else {
        doubt.plain(" and readings scatter no more than stated.")
    };
    said.push(doubt);
    said
}

fn sentence(l: &Learned) -> Words {
    let ratio = l.value / l.before;
    let words = Words::default()
        .strong(in_words(&l.path))
        .plain(format!(" ({}) is ", l.path))
        .strong(value(l, l.value))
        .plain(format!(" ({})", range(l, l.value, l.factor)));
    let words = words.plain(format!(
        ": {} times the value used before, which could be off by a factor of {} either way",
        three(ratio),
        three(l.before_factor)
    ));
    if l.clutches_factor > 1.0 {
        words.plain(format!("; clutches differ by a factor of {} either way.", three(l.clutches_factor)))
    } else {
        words.plain(".")
    }
}

/// A bound of a life as text.
fn life(time_of: Option<f64>, horizon: f64) -> String {
    time_of.map_or_else(|| format!("more than {}", say::time(horizon)), say::time)
}

fn narrowed(f: &Forecast) -> Words {
    let at = |set: &[Bounds; 3], k: usize| life(set[k].estimate, f.horizon);
    let words = Words::from(format!("Of {} clutches under “{}”, half have a part worn out after ", f.clutches, f.duty));
    let words = words.strong(at(&f.after, 1)).plain(format!(" (expected before: {}); ", at(&f.before, 1)));
    let wide = |set: &[Bounds; 3]| Some(set[2].estimate? / set[0].estimate?);
    let words =
        words.plain("80 of 100 wear one out between ").strong(format!("{} and {}", at(&f.after, 0), at(&f.after, 2)));
    let words = words.plain(format!(" instead of between {} and {}", at(&f.before, 0), at(&f.before, 2)));
    match (wide(&f.before), wide(&f.after)) {
        (Some(before), Some(after)) => {
            words.plain(format!(": a factor of {} where it was {}.", three(after), three(before)))
        }
        _ => words.plain("."),
    }
}

fn constants(c: &Calibration) -> Table {
    let heads = vec![
        Head::words("constant"),
        Head::words("before"),
        Head::words("learned"),
        Head::words("90 % within"),
        Head::of("learned / before", "").spare(12),
        Head::of("clutches differ by ÷ or ×", "").spare(2),
        Head::of("a clutch not yet seen, ÷ or ×", "").spare(13),
        Head::words("from").spare(14),
    ];
    let row = |l: &Learned| Row {
        cells: vec![
            in_words(&l.path).into(),
            format!("{} (÷ or × {})", value(l, l.before), three(l.before_factor)).into(),
            value(l, l.value).into(),
            range(l, l.value, l.factor).into(),
            Cell::Number(three(l.value / l.before)),
            if l.clutches_factor > 1.0 { Cell::Number(three(l.clutches_factor)) } else { Cell::Nothing },
            Cell::Number(three(l.spread)),
            l.from.join(", ").into(),
        ],
        of: None,
    };
    Table::new("What was learned", heads, c.constants.iter().map(row).collect())
        .note("Before: the machine's value, and the factor within which 90 % of what was thought possible lies. – : fewer than three clutches tell, or they differ no more than their readings scatter.")
}

fn lives(f: &Forecast) -> Table {
    let heads = vec![
        Head::words("clutches with a worn part"),
        Head::words("before"),
        Head::words("before, 90 % bounds"),
        Head::words("after"),
        Head::words("after, 90 % bounds"),
    ];
    let bounds = |b: &Bounds| match (b.low, b.high) {
        (None, None) => Cell::Nothing,
        (low, high) => {
            let low = low.map_or_else(|| "–".to_owned(), |t| time(t / HOUR));
            format!("{low} to {}", high.map_or_else(|| "–".to_owned(), |t| time(t / HOUR))).into()
        }
    };
    let row = |(k, name): (usize, &str)| Row {
        cells: vec![
            name.into(),
            life(f.before[k].estimate, f.horizon).into(),
            bounds(&f.before[k]),
            life(f.after[k].estimate, f.horizon).into(),
            bounds(&f.after[k]),
        ],
        of: None,
    };
    let rows = ["10 % (B10)", "50 % (B50)", "90 % (B90)"].into_iter().enumerate().map(row).collect();
    Table::new(format!("Lives of {} clutches under “{}”", f.clutches, f.duty), heads, rows)
        .note("Order statistics, for any distribution; – where so few clutches, or the horizon, leave a bound open.")
}

fn running_in(c: &Calibration) -> Table {
    let heads = vec![Head::words("part"), Head::of("depth", "µm"), Head::of("± (90 %)", "µm")];
    let um = |v: f64| Cell::Number(three(1e6 * v));
    let row = |r: &slipsoak_engine::calibrate::RunningIn| Row {
        cells: vec![r.part.clone().into(), um(r.depth), um(NINETY_FIVE * r.error)],
        of: None,
    };
    Table::new("What running in took", heads, c.running_in.iter().map(row).collect())
        .note("Fitted along with the constants; below nothing, as far as its error reaches, means none was seen.")
}

fn correlation(c: &Calibration) -> Table {
    let heads = c.constants.iter().map(|l| Head::of(in_words(&l.path), ""));
    let row = |(l, values): (&Learned, &Vec<f64>)| {
        let cells = values.iter().map(|r| Cell::Number(format!("{r:.2}").replace('-', "−")));
        Row { cells: std::iter::once(in_words(&l.path).into()).chain(cells).collect(), of: None }
    };
    let rows = c.constants.iter().zip(&c.correlation).map(row).collect();
    Table::new("How the errors go together", std::iter::once(Head::words("constant")).chain(heads).collect(), rows)
        .note("Correlation of the errors: near 1 or −1 the data tell both together better than each; a fit in which they cannot be told apart is refused.")
}

/// Sentences on what the data leave undetermined.
fn open(c: &Calibration) -> Vec<Words> {
    let learned = |path: &str| c.constants.iter().any(|l| l.path == path);
    let left: Vec<String> = ASSUMED
        .iter()
        .filter(|(path, spread)| matches!(spread, Spread::Factor(_)) && !learned(path))
        .map(|(path, _)| in_words(path).to_owned())
        .collect();
    let mut said = vec![];
    if !left.is_empty() {
        said.push(format!("Not learned, and as uncertain as before: {}.", listed(&left)).into());
    }
    if let Some((i, j, r)) = strongest(&c.correlation) {
        let pair =
            [i, j].map(|k| in_words(&c.constants[k].path)).join(" and ") + &format!(" ({r:.2})").replace('-', "−");
        said.push(format!("The errors that go together most are those of {pair}.").into());
    }
    let aside: u64 = c.data.iter().map(|s| s.set_aside).sum();
    if aside > 0 {
        said.push(
            format!(
                "{aside} readings were set aside: of the running-in, or of what no constant that was learned moves."
            )
            .into(),
        );
    }
    let q = &c.quality;
    said.push(
        format!(
            "The fit leaves a sum of squares of {} for {} degrees of freedom; {} of {} searches ended there.",
            three(q.sum),
            q.freedom,
            q.searches.1,
            q.searches.0
        )
        .into(),
    );
    said.push("A constant that the data do not determine, or cannot separate from another, is refused with what to measure; no page is written of it.".into());
    said.push("The readings' scatter, the parts' tolerances when new and the time of running in are assumed unless the head of a column says ±.".into());
    said
}

fn sources(c: &Calibration) -> Table {
    let heads = vec![
        Head::words("file"),
        Head::words("duty"),
        Head::of("readings used", ""),
        Head::of("set aside", ""),
        Head::words("SHA-256").only(Reach::Page),
    ];
    let row = |s: &slipsoak_engine::calibrate::Source| Row {
        cells: vec![
            s.file.clone().into(),
            s.duty.clone().into(),
            Cell::Number(s.used.to_string()),
            Cell::Number(s.set_aside.to_string()),
            s.hash.clone().into(),
        ],
        of: None,
    };
    Table::new("What was measured", heads, c.data.iter().map(row).collect())
}
