//! One question of the shop: its row, and the question posed on a machine.

use crate::read::refusal::Refusal;
use crate::read::units::show;
use crate::shop::options::{Given, ShopOption};
use slipsoak_engine::document::{Head, Saved};
use slipsoak_engine::finding::Spent;
use slipsoak_engine::parts::{Dimension, Invalid, Machine};
use slipsoak_engine::simulate::{Failure, holds_idle};
use slipsoak_engine::spring_choice::{Sketched, sketch};
use slipsoak_engine::units::RPM;
use slipsoak_engine::usage::Usage;

/// Rated speed of small motors, rad/s (common practice, no source).
const RATED: f64 = 3600.0 * RPM;

/// One question.
#[derive(Debug)]
pub struct Question {
    /// its word, in scripts and on the command line
    pub word: &'static str,
    /// what its command does
    pub about: &'static str,
    /// what it asks, for a reader
    pub asks: &'static str,
    /// its options, in the order of help
    pub options: &'static [ShopOption],
    /// whether it judges other springs than the machine's own
    pub(super) judges_others: bool,
    /// the question on one machine
    pub(super) of: fn(Case) -> Result<Posed, Refusal>,
}

/// A machine as the options leave it, and its use.
pub(crate) struct Case {
    pub machine: Machine,
    pub usage: Usage,
    pub given: Given,
    /// rating from which its torque curve was sketched
    pub sketched: Option<Sketched>,
}

/// What computes an answer; it calls the function after each trial.
pub(super) type Answer = dyn FnOnce(&(dyn Fn() + Sync)) -> Result<Saved, Failure> + Send + Sync;

/// A question with all its data.
pub struct Posed {
    /// name of the trials that the answer needs
    pub what: &'static str,
    /// their number
    pub trials: u64,
    pub(super) answer: Box<Answer>,
}

impl Posed {
    /// Computes the answer, with its head, on the threads of the present pool; the answer does not depend on their number.
    /// `done` is called for each trial.
    pub fn answer(self, head: Head, done: &(dyn Fn() + Sync)) -> Result<Saved, Failure> {
        Ok((self.answer)(done)?.headed(head))
    }
}

impl Question {
    /// The option of a name in a script.
    pub fn option(&self, name: &str) -> Option<&'static ShopOption> {
        self.options.iter().find(|option| option.script_name() == name)
    }

    /// The question on a machine with these options; `usage` is asked for the use of the machine as the options leave it.
    pub(crate) fn pose<E: From<Invalid> + From<Refusal>>(
        &self,
        mut machine: Machine,
        given: Given,
        usage: impl FnOnce(&Machine) -> Result<Usage, E>,
    ) -> Result<Posed, E> {
        if let Some(idle) = given.quantity("idle") {
            machine.motor.idle = idle;
        }
        let rating = given.quantity("power").map(|power| (power, given.quantity("rated").unwrap_or(RATED)));
        let sketched = rating.map(|(power, rated)| sketch(&mut machine, power, rated));
        machine.vehicle.mass += given.quantity("load").unwrap_or(0.0);
        match machine.check() {
            // Its own spring is not that which is judged.
            Err(Invalid::NeverEngages { .. } | Invalid::NoPreload { .. }) if self.judges_others => {}
            checked => checked?,
        }
        if let Some(spent) = Spent::all(|p| Some((p.of)(&machine))).first() {
            return Err(replace(spent).into());
        }
        let usage = usage(&machine)?;
        let idling = machine.clone();
        let Posed { what, trials, answer } = (self.of)(Case { machine, usage, given, sketched })?;
        let answer: Box<Answer> = Box::new(move |done| {
            holds_idle(&idling)?;
            answer(done)
        });
        Ok(Posed { what, trials, answer })
    }
}

/// That a part has to be replaced before anything can be asked of the machine.
fn replace(spent: &Spent) -> Refusal {
    let part = spent.part.name();
    let [thickness, limit] = [spent.thickness, spent.limit].map(|size| show(size, Dimension::Length));
    Refusal::new(format!(
        "{part}.thickness is {thickness}, and limits.{part}, at which a worn one is replaced, is {limit}: fit a new {part}, and give its thickness; this one is worn out before it is ridden"
    ))
}
