//! The shop's questions as words of a script. They are stored in the plan and answered once it is complete.

use crate::command::shop::Question;
use crate::command::shop::options::Wrong;
use crate::language::dictionary::outside;
use crate::language::fence::Desk;
use crate::language::plan::{Duty, Variant};
use crate::language::refusal::{Refusal, between};
use crate::read::files::Shelf;
use crate::read::stock::{Stock, shipped};
use crate::read::units::nearest;
use rhai::{Dynamic, Engine, EvalAltResult, Map, NativeCallContext, Position};
use slipsoak_engine::choice::{self, Spring, sketch};
use slipsoak_engine::parts::Dimension as D;
use slipsoak_engine::units::{DAY, RPM};
use slipsoak_engine::usage::Usage;
use slipsoak_engine::{fit, oiling};
use std::collections::BTreeMap;
use std::rc::Rc;

/// Name of an option, its least and greatest value, SI, and its dimension.
type Range = (&'static str, f64, f64, D);

const CHOOSE: &[Range] = &[
    ("wander", 0.0, 500.0 * RPM, D::AngularSpeed),
    ("grade", -0.5, 0.5, D::Ratio),
    ("load", 0.0, 2000.0, D::Mass),
    ("crawl", 0.1, 30.0, D::Speed),
    ("season", 3600.0, 3.6e8, D::Time),
    ("power", 100.0, 1e5, D::Power),
    ("rated", 1500.0 * RPM, 19000.0 * RPM, D::AngularSpeed),
];
const GAPS: &[Range] = &[
    ("cover", -0.02, 0.02, D::Length),
    ("cover_tolerance", 0.0, 5e-3, D::Length),
    ("seed", 0.0, 9e15, D::Ratio),
    ("assemblies", 100.0, 1e6, D::Ratio),
];
const OILING: &[Range] = &[
    ("riding", 300.0, DAY, D::Time),
    ("rest", 0.0, 366.0 * DAY, D::Time),
    ("drops", 0.5, 100.0, D::Ratio),
    ("found", 0.3, 1.0, D::Ratio),
    ("grease", 1e-9, 1e-5, D::Volume),
];

/// Largest number of questions of one script.
const QUESTIONS: usize = 50;

/// Kind of question.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Kind {
    Choose,
    Gaps,
    Oiling,
}

/// Use of the machine.
#[derive(Clone, Debug)]
pub enum Use {
    /// by name
    Named(String),
    /// a duty of the script
    Duty(Duty),
}

/// A question in a script.
#[derive(Clone, Debug)]
pub struct Asked {
    kind: Kind,
    /// the machine
    pub variant: Variant,
    /// its use
    pub usage: Use,
    options: BTreeMap<&'static str, f64>,
    springs: Vec<Spring>,
    /// position in the script
    pub position: Position,
}

/// Registers the words.
pub(crate) fn register(engine: &mut Engine, desk: &Rc<Desk>, shelf: &Shelf) {
    for (word, kind, known) in
        [("choose", Kind::Choose, CHOOSE), ("gaps", Kind::Gaps, GAPS), ("oiling", Kind::Oiling, OILING)]
    {
        let ask = {
            let (desk, shelf) = (Rc::clone(desk), shelf.clone());
            move |context: &NativeCallContext, variant: Variant, usage: Dynamic, options: Map| {
                let at = context.call_position();
                outside(&desk, word).map_err(|e| e.at(at))?;
                if desk.plan.borrow().questions.len() >= QUESTIONS {
                    return Err(Refusal::Questions(QUESTIONS + 1, QUESTIONS).at(at));
                }
                let asked = asked((word, kind, known), variant, usage, &options, &shelf).map_err(|e| e.at(at))?;
                desk.plan.borrow_mut().questions.push(Asked { position: at, ..asked });
                Ok::<_, Box<EvalAltResult>>(())
            }
        };
        let plain = ask.clone();
        engine.register_fn(word, move |context: NativeCallContext, variant: Variant, usage: Dynamic| {
            plain(&context, variant, usage, Map::new())
        });
        engine.register_fn(word, move |context: NativeCallContext, variant: Variant, usage: Dynamic, options: Map| {
            ask(&context, variant, usage, options)
        });
    }
}

fn asked(
    (word, kind, known): (&'static str, Kind, &'static [Range]),
    variant: Variant,
    usage: Dynamic,
    given: &Map,
    shelf: &Shelf,
) -> Result<Asked, Refusal> {
    let usage = match usage.clone().try_cast::<Duty>() {
        Some(duty) => Use::Duty(duty),
        None => Use::Named(usage.into_string().map_err(|kind| Refusal::NoUse { word, given: format!("a {kind}") })?),
    };
    let mut options = BTreeMap::new();
    let mut springs = if kind == Kind::Choose { shipped()? } else { vec![] };
    for (name, value) in given {
        if kind == Kind::Choose && name == "stock" {
            let file = value.clone().into_string().map_err(|kind| Refusal::NoStock(format!("a {kind}")))?;
            let file = format!("{}.json", file.trim_end_matches(".json"));
            springs = Stock::read(&file, &shelf.read(&file, ".json")?)?;
            continue;
        }
        let Some(&(name, least, most, dimension)) = known.iter().find(|o| o.0 == name.as_str()) else {
            let stock = (kind == Kind::Choose).then_some("stock");
            let names: Vec<&str> = known.iter().map(|o| o.0).chain(stock).collect();
            return Err(Refusal::Option {
                word,
                given: name.to_string(),
                suggestion: nearest(name, names.iter().copied()),
                known: names.join(", "),
            });
        };
        let value = between(word, name, value, (least, most), dimension)?;
        if ["seed", "assemblies"].contains(&name) && value.fract() != 0.0 {
            return Err(Refusal::Wholly { word, argument: name, value });
        }
        options.insert(name, value);
    }
    if options.contains_key("power") != options.contains_key("rated") {
        return Err(Refusal::Rating);
    }
    Ok(Asked { kind, variant, usage, options, springs, position: Position::NONE })
}

impl Asked {
    /// Name of the question for a reader.
    pub fn name(&self) -> String {
        let what = match self.kind {
            Kind::Choose => "which spring",
            Kind::Gaps => "will it fit, and when will it rub",
            Kind::Oiling => "when and how to oil",
        };
        format!("{}: {what}?", self.variant.name)
    }

    /// The complete question, with the use already resolved from its name or duty.
    pub fn question(&self, usage: Usage) -> Result<Question, Refusal> {
        let mut machine = self.variant.machine.clone();
        machine.name.clone_from(&self.variant.name);
        let of = |name: &str, usual: f64| self.options.get(name).copied().unwrap_or(usual);
        Ok(match self.kind {
            Kind::Choose => {
                let rating = self.options.get("power").zip(self.options.get("rated"));
                let sketched = rating.map(|(power, rated)| sketch(&mut machine, *power, *rated));
                machine.vehicle.mass += of("load", 0.0);
                machine.check().map_err(|e| Refusal::Unfit(e.into()))?;
                let usual = choice::Wish::new(machine, usage);
                let wish = choice::Wish {
                    wander: of("wander", usual.wander),
                    grade: of("grade", 0.0),
                    load: of("load", 0.0),
                    crawl: self.options.get("crawl").copied(),
                    season: of("season", usual.season),
                    ..usual
                };
                Question::Choose(Box::new(wish), self.springs.clone(), sketched)
            }
            Kind::Gaps => {
                let usual = fit::Wish::new(machine, usage);
                Question::Gaps(Box::new(fit::Wish {
                    cover: (of("cover", 0.0), of("cover_tolerance", 0.0)),
                    seed: of("seed", usual.seed as f64) as u64,
                    assemblies: of("assemblies", usual.assemblies as f64) as u64,
                    ..usual
                }))
            }
            Kind::Oiling => {
                let usual = oiling::Wish::new(machine, usage);
                let riding = of("riding", usual.riding);
                Question::Oiling(Box::new(oiling::Wish {
                    riding,
                    rest: of("rest", (DAY - riding).max(0.0)),
                    drops: of("drops", usual.drops),
                    found: of("found", usual.found),
                    grease: of("grease", usual.grease),
                    ..usual
                }))
            }
        })
    }
}

/// The use with that name.
pub(crate) fn named(name: &str, variant: &Variant) -> Result<Usage, Wrong> {
    crate::command::shop::options::usage(name, &variant.machine)
}
