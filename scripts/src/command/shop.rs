//! The shop's questions on the command line: each is a command of its own, with the options of its row.

use crate::command::deliver::{deliver, prepare};
use crate::command::machine::{machine, of_machine};
use crate::command::options::{Output, Part, Threads, count};
use crate::command::progress::Progress;
use crate::command::shop_values::take;
use crate::error::Error;
use crate::read::quantity::read;
use crate::read::refusal::Refusal;
use crate::read::uses::usage;
use crate::read::variant::BUILT_IN;
use crate::shop::options::{Form, Given, ShopOption};
use crate::shop::{Posed, QUESTIONS, Question};
use crate::study::request::pool;
use clap::error::ErrorKind;
use clap::{Arg, ArgAction, ArgMatches, Args as _, Command, FromArgMatches, Subcommand};
use slipsoak_engine::parts::Dimension;
use slipsoak_engine::simulate::Failure;
use slipsoak_plots::words::text::shell;
use slipsoak_plots::words::uses;

/// A question with what is given to it.
#[derive(Debug)]
pub struct Shop {
    question: &'static Question,
    machine: Part,
    given: Vec<(&'static ShopOption, String)>,
    output: Output,
    threads: Threads,
}

impl FromArgMatches for Shop {
    fn from_arg_matches(matches: &ArgMatches) -> Result<Self, clap::Error> {
        let asked = |question: &&'static Question| Some((*question, matches.subcommand_matches(question.word)?));
        let found = QUESTIONS.iter().find_map(asked);
        let (question, matches) = found.ok_or_else(|| clap::Error::new(ErrorKind::MissingSubcommand))?;
        let text = |option: &ShopOption| match option.form {
            Form::Switch => matches.get_flag(option.name).then(String::new),
            _ => matches.get_one::<String>(option.name).cloned(),
        };
        let given = on_command_line(question).filter_map(|option| Some((option, text(option)?)));
        Ok(Self {
            question,
            machine: Part::from_arg_matches(matches)?,
            given: given.collect(),
            output: Output::from_arg_matches(matches)?,
            threads: Threads::from_arg_matches(matches)?,
        })
    }

    fn update_from_arg_matches(&mut self, matches: &ArgMatches) -> Result<(), clap::Error> {
        *self = Self::from_arg_matches(matches)?;
        Ok(())
    }
}

impl Subcommand for Shop {
    fn augment_subcommands(command: Command) -> Command {
        let one = |question: &&Question| {
            let of_a_machine = Part::augment_args(Command::new(question.word));
            // A caller has no parts file.
            let part = |part: Arg| part.required(false).default_value(BUILT_IN);
            let own = of_a_machine.mut_arg("part", part).args(on_command_line(question).map(argument));
            Threads::augment_args(Output::augment_args(own)).about(question.about)
        };
        command.subcommands(QUESTIONS.iter().map(one))
    }

    fn augment_subcommands_for_update(command: Command) -> Command {
        Self::augment_subcommands(command)
    }

    fn has_subcommand(name: &str) -> bool {
        QUESTIONS.iter().any(|question| question.word == name)
    }
}

fn on_command_line(question: &Question) -> impl Iterator<Item = &'static ShopOption> {
    question.options.iter().filter(|option| !matches!(option.form, Form::Tolerance))
}

/// Other names of options, which mean nothing else here.
const OTHER_NAMES: [(&str, &str); 7] = [
    ("power", "hp"),
    ("gears", "ratio"),
    ("gears", "gearing"),
    ("mass", "weight"),
    ("wheel", "wheel-diameter"),
    ("proud", "bushing"),
    ("idle", "idle-speed"),
];

/// An option as the command line takes it.
fn argument(option: &'static ShopOption) -> Arg {
    let arg = Arg::new(option.name).long(option.name).value_name(option.value).help(option.help);
    let arg = OTHER_NAMES.iter().filter(|(name, _)| *name == option.name).fold(arg, |arg, (_, also)| arg.alias(*also));
    let usual = arg.clone().default_value(option.usual).allow_hyphen_values(true);
    match option.form {
        Form::Use => arg.default_value(option.usual).help(format!("{}: {}", option.help, uses::all())),
        Form::Stock | Form::Learned => arg,
        Form::Switch => Arg::new(option.name).long(option.name).action(ArgAction::SetTrue).help(option.help),
        Form::Springs => arg.conflicts_with("stock").allow_hyphen_values(true),
        Form::Also(other) => arg.visible_alias(other).allow_hyphen_values(true),
        Form::Drops => usual.value_parser(drops),
        Form::OneOf(words) => usual.value_parser(words.to_vec()),
        Form::Count(most) => {
            let least = option.range.0 as u64;
            usual.value_parser(move |text: &str| count(text, least, most).map(|number| number.to_string()))
        }
        Form::Together(other) => arg.requires(other).allow_hyphen_values(true),
        Form::Quantity
        | Form::Size(_)
        | Form::Settings(..)
        | Form::Tolerance
        | Form::Machine(_)
        | Form::Hours
        | Form::Text => arg.allow_hyphen_values(true),
    }
}

/// A number of drops, or their volume.
fn drops(text: &str) -> Result<String, String> {
    if read(text, Dimension::Volume).is_ok() {
        return Ok(text.to_owned());
    }
    let number = text.trim().trim_end_matches("drops").trim_end_matches("drop").trim();
    let read = number.parse::<f64>().ok().filter(|drops| drops.is_finite());
    let read = read.ok_or(
        "a number of drops is wanted here, such as 4 or 4.5, with a decimal point, or their volume, such as \"0.2 mL\"",
    )?;
    Ok(read.to_string())
}

/// Answers a question of the command line.
pub fn perform(asked: &Shop) -> Result<String, Error> {
    let posed = asked.posed()?;
    let folder = prepare(&asked.output)?;
    let bar = Progress::of(posed.what, posed.trials, asked.output.quiet);
    let given = asked.given.iter().map(|(option, text)| (option.name, text.as_str()));
    let head = of_machine(asked.question.word, &asked.machine, given);
    let answer = pool(asked.threads.number)?.install(|| posed.answer(head, &|| bar.add(1.0)));
    bar.end();
    let answer = answer.map_err(|why| Refusal::new(format!("{}{}", Refusal::from(why.clone()), asked.instead(&why))));
    Ok(deliver(answer?.into(), &asked.output, folder)?)
}

impl Shop {
    /// What to ask where the machine burns in the use, after a semicolon: the choice of a spring, which is answered all the same.
    fn instead(&self, why: &Failure) -> String {
        let choose = QUESTIONS.iter().find(|question| question.word == "choose" && question.word != self.question.word);
        let Some(choose) = choose.filter(|_| matches!(why, Failure::TooHot(_))) else { return String::new() };
        let alike = |option: &ShopOption| {
            matches!(option.form, Form::Machine(_) | Form::Use | Form::Springs | Form::Stock)
                && choose.option(option.name).is_some()
        };
        let given = self.given.iter().filter(|(option, _)| alike(option));
        let given = given.map(|(option, text)| (option.name, text.as_str()));
        let command = of_machine(choose.word, &self.machine, given).command;
        let command = shell(command.iter().map(String::as_str));
        format!("; `{command}` says which spring slips least, and what else helps")
    }

    fn posed(&self) -> Result<Posed, Refusal> {
        let word = self.machine.part.to_str().unwrap_or_default();
        let meant = on_command_line(self.question)
            .find(|option| matches!(option.form, Form::OneOf(words) if words.contains(&word)));
        if let Some(option) = meant.filter(|_| !self.machine.part.exists()) {
            return Err(Refusal::of_command(format!("`{word}` is no machine: write --{} {word}", option.name)));
        }
        let named = machine(&self.machine);
        let mut wrong: Vec<Refusal> = named.as_ref().err().into_iter().cloned().collect();
        let mut machine = named.unwrap_or_default();
        let mut given = Given::nothing(self.question.options)?;
        let mut used = "";
        for (option, text) in &self.given {
            if matches!(option.form, Form::Use) {
                used = text;
            } else if let Err(why) = take(option, text, &mut machine, &mut given) {
                wrong.push(why);
            }
        }
        let posed = self.question.pose(machine, given, |machine| usage(used, machine));
        let refused = |why: &Refusal| as_typed(self.question, &why.to_string());
        match (posed, wrong.is_empty()) {
            (posed, true) => posed.map_err(|why| refused(&why).unwrap_or(why)),
            // What follows from a value that was not taken is not told.
            (posed, false) => Err(Refusal::several(wrong.into_iter().chain(posed.err().as_ref().and_then(refused)))),
        }
    }
}

/// A refusal each of whose lines begins with an option's name, with the options as they are typed here.
fn as_typed(question: &Question, message: &str) -> Option<Refusal> {
    let of_line = |line: &str| {
        on_command_line(question).find_map(|option| {
            let spelled = [option.name.to_owned(), option.name.replace('-', " ")];
            let rest = spelled.iter().find_map(|name| line.strip_prefix(name)?.strip_prefix(": "))?;
            Some(Refusal::new(format!("--{}: {rest}", option.name)))
        })
    };
    let lines: Vec<Refusal> = message.lines().filter_map(of_line).collect();
    (!lines.is_empty()).then(|| Refusal::several(lines))
}
