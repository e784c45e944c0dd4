//! One word of the script language: a row with its arguments, its meaning, an example that runs, and its functions.

use crate::language::context::ScriptContext;
use rhai::Engine;
use std::rc::Rc;

/// Object on which a word is used.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum On {
    /// by itself: `machine("example")`
    Script,
    /// after a machine: `cart.spring(1700.rpm)`
    Machine,
    /// after a duty: `week.repeated(2000.hours)`
    Duty,
    /// after the ride that a duty is given: `ride.idle(30.s)`
    Ride,
}

impl On {
    /// Every object.
    pub const ALL: [Self; 4] = [Self::Script, Self::Machine, Self::Duty, Self::Ride];

    /// Name of the object.
    pub fn name(self) -> &'static str {
        match self {
            Self::Script => "script",
            Self::Machine => "machine",
            Self::Duty => "duty",
            Self::Ride => "ride",
        }
    }
}

/// Where a row registers its functions.
pub(crate) struct Registry<'a> {
    pub word: &'static str,
    pub engine: &'a mut Engine,
    /// state shared by the words of the script
    pub own: Rc<ScriptContext>,
}

impl Registry<'_> {
    /// The same place, for a word with several functions.
    pub(crate) fn again(&mut self) -> Registry<'_> {
        Registry { word: self.word, engine: self.engine, own: Rc::clone(&self.own) }
    }
}

/// One word.
#[derive(Clone, Copy, Debug)]
pub struct Word {
    /// example line that runs
    pub example: &'static str,
    /// object, name and arguments, and meaning: `ride.idle(time): throttle closed`
    entry: &'static str,
    /// everyday words for it, with blanks between them
    pub(crate) also: &'static str,
    /// registers its functions
    pub(crate) register: fn(Registry),
}

/// A word as the reference writes it.
pub(crate) const fn word(entry: &'static str, example: &'static str, register: fn(Registry)) -> Word {
    Word { entry, example, also: "", register }
}

impl Word {
    /// The word with everyday words for it.
    pub(crate) const fn also(self, also: &'static str) -> Self {
        Self { also, ..self }
    }

    /// The word as it stands in a script, with its object; its arguments; its meaning.
    fn parts(&self) -> (&'static str, &'static str, &'static str) {
        let (used, meaning) = self.entry.split_once(": ").unwrap_or((self.entry, ""));
        let (written, arguments) = used.split_at(used.find('(').unwrap_or(used.len()));
        (written, arguments, meaning)
    }

    /// The word as it stands in a script, with its object: `ride.idle`.
    pub fn written(&self) -> &'static str {
        self.parts().0
    }

    /// Arguments with their units, in brackets; empty for a reading.
    pub fn arguments(&self) -> &'static str {
        self.parts().1
    }

    /// Meaning.
    pub fn meaning(&self) -> &'static str {
        self.parts().2
    }

    /// Name.
    pub fn name(&self) -> &'static str {
        self.written().rsplit('.').next().unwrap_or_default()
    }

    /// Object on which it is used.
    pub fn on(&self) -> On {
        let object = self.written().split_once('.').map_or("script", |used| used.0);
        On::ALL.into_iter().find(|on| on.name() == object).unwrap_or(On::Script)
    }
}
