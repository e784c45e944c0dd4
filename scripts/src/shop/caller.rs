//! What somebody at the counter says of a machine and of springs: options of the command line.

use super::options::{Form, ShopOption, named};
use crate::read::quantity::{QuantityError, read_near, show_as, speed, thousands};
use crate::read::refusal::Refusal;
use crate::read::units::{between, show};
use slipsoak_engine::parts::{Dimension as D, Machine, Parameter, settings};
use slipsoak_engine::parts_file;
use slipsoak_engine::spring_choice::Spring;

/// The mass that moves.
pub(super) const MASS: ShopOption = named("mass", Form::Machine(mass), "MASS")
    .help("mass of machine and rider, such as \"160 kg\" or \"350 lb\" [default: the machine's]");

/// The driven wheel.
pub(super) const WHEEL: ShopOption = named(
    "wheel",
    Form::Machine(|machine, text| size(machine, &settings::vehicle::wheel_radius, text, 2.0)),
    "DIAMETER",
)
.help("diameter of the driven wheel, such as \"330 mm\" or \"13 in\" [default: the machine's]");

/// The gearing.
pub(super) const GEARS: ShopOption = named("gears", Form::Machine(gears), "RATIO").help(
    "gear ratio from clutch to wheel, such as 5.5:1, or teeth driven and driving, 60:11 [default: the machine's]",
);

/// The lining.
pub(super) const LINING: ShopOption = named("lining", Form::Machine(lining), "KIND")
    .help("lining: woven, moulded, sintered or bare metal [default: the machine's]");

/// The oil.
pub(super) const OIL: ShopOption =
    named("oil", Form::Machine(oil), "NAME").help("oil in the bushing, such as \"SAE 30\" [default: the machine's]");

fn lining(machine: &mut Machine, text: &str) -> Result<(), Refusal> {
    machine.line_with(parts_file::lining(text)?);
    Ok(())
}

fn oil(machine: &mut Machine, text: &str) -> Result<(), Refusal> {
    machine.oil = parts_file::oil(text)?;
    Ok(())
}

/// Least mass of a machine with its rider, kg. Assumed: a child on a light frame.
const RIDDEN: f64 = 40.0;

/// Sets the mass, with the rider.
fn mass(machine: &mut Machine, text: &str) -> Result<(), Refusal> {
    let setting: &Parameter = &settings::vehicle::mass;
    let given = read_near(text, setting.dimension, Some((setting.of)(machine))).ok();
    if let Some(given) = given.filter(|given| (setting.least..RIDDEN).contains(given)) {
        let [shown, least] = [given, RIDDEN].map(|mass| show_as(text, mass, setting.dimension));
        return Err(Refusal::new(format!(
            "{shown} is too little for a machine with its rider, at least {least}: give the mass of both together; if nobody rides it, write --set {}=\"{shown}\"",
            setting.path
        )));
    }
    size(machine, setting, text, 1.0)
}

/// Sets a size that is so many times the setting.
fn size(machine: &mut Machine, setting: &'static Parameter, text: &str, times: f64) -> Result<(), Refusal> {
    let usual = times * (setting.of)(machine);
    let value = read_near(text, setting.dimension, Some(usual)).map_err(|why| refused(&why))?;
    let (least, most) = (times * setting.least, times * setting.most);
    if (least..=most).contains(&value) {
        return Ok(parts_file::set(machine, setting, value / times)?);
    }
    let [least, most] = between((least, most), setting.dimension);
    let value = show(value, setting.dimension);
    Err(Refusal::new(format!("it is {value}; it must lie between {least} and {most}")))
}

fn refused(why: &QuantityError) -> Refusal {
    Refusal::new(why.to_string())
}

/// Sets the gear ratio, a number or two with a colon between them.
fn gears(machine: &mut Machine, text: &str) -> Result<(), Refusal> {
    let number = |part: &str| part.trim().parse::<f64>().ok().filter(|n| n.is_finite() && *n > 0.0);
    let ratio = match text.split_once([':', '/']) {
        Some((driven, driving)) => number(driven).zip(number(driving)).map(|(a, b)| a / b),
        None => number(text),
    };
    let Some(ratio) = ratio else {
        return Err(Refusal::new(format!(
            "`{text}` is no gear ratio: write 5.5:1, or teeth driven and driving, 60:11"
        )));
    };
    if ratio < 1.0 {
        let turned =
            text.split_once([':', '/']).map_or_else(String::new, |(a, b)| format!(", {}:{}", b.trim(), a.trim()));
        return Err(Refusal::new(format!(
            "{text} is {ratio:.2}, which would gear up: write the teeth of the driven sprocket first{turned}"
        )));
    }
    Ok(parts_file::set(machine, &settings::vehicle::ratio, ratio)?)
}

/// The text with commas for the other words and signs between values: "1900 and 2200", "1900/2200". A unit's own `/` stands before
/// a letter.
fn listed(text: &str) -> String {
    let text = [" and ", " or ", "&"].iter().fold(text.to_owned(), |text, word| text.replace(word, ", "));
    let mut parts = text.split('/');
    let first = parts.next().unwrap_or_default().to_owned();
    parts.fold(first, |all, part| {
        let sign = if part.trim_start().starts_with(|c: char| c.is_ascii_digit()) { ',' } else { '/' };
        format!("{all}{sign}{part}")
    })
}

/// The text without commas between thousands, if it has any: behind one or two digits, which are no spring, and before three.
fn without_thousands(text: &str) -> Option<String> {
    let digits = |text: &str| text.bytes().take_while(u8::is_ascii_digit).count();
    let mut parts = text.split(',');
    let mut plain = parts.next()?.to_owned();
    let mut any = false;
    for part in parts {
        let before = plain.rsplit(|c: char| !c.is_ascii_digit()).next().map_or(0, str::len);
        let thousands = (1..=2).contains(&before) && digits(part) == 3;
        any |= thousands;
        plain += if thousands { "" } else { "," };
        plain += part;
    }
    any.then_some(plain)
}

/// Springs by their engagement speeds, "1900, 2200" or bare numbers between blanks.
pub(crate) fn springs(text: &str) -> Result<Vec<Spring>, Refusal> {
    let setting: &Parameter = &settings::clutch::engagement;
    let mut springs: Vec<Spring> = vec![];
    let text = listed(text);
    if let Some(plain) = without_thousands(&text) {
        return Err(refused(&QuantityError::Comma { text, plain, besides: None }));
    }
    // Between bare numbers blanks are enough, with a unit behind the last: "1900 2200 rpm".
    let (numbers, unit) = text.rsplit_once(' ').filter(|(_, last)| last.parse::<f64>().is_err()).unwrap_or((&text, ""));
    let bare = numbers.split_whitespace().all(|one| one.parse::<f64>().is_ok());
    let (list, marks): (&str, &[char]) = if bare { (numbers, &[' ', '\t']) } else { (&text, &[',', ';']) };
    for one in list.split(marks).map(str::trim).filter(|one| !one.is_empty()) {
        let one = if bare { format!("{one} {unit}").trim_end().to_owned() } else { one.to_owned() };
        let several = |why: &QuantityError| {
            let commas = if matches!(why, QuantityError::Unit { .. }) {
                "; commas stand between springs: \"1900, 2200\""
            } else {
                ""
            };
            Refusal::new(format!("{why}{commas}"))
        };
        let engagement = speed(&one, D::AngularSpeed, Some(setting.default)).map_err(|why| several(&why))?.0;
        let name = show(engagement, D::AngularSpeed);
        if !(setting.least..=setting.most).contains(&engagement) {
            let [least, most] = between((setting.least, setting.most), D::AngularSpeed);
            let typed = if one.trim().parse::<f64>().is_ok() { format!("{} rpm", one.trim()) } else { one };
            let meant = thousands(&typed, (setting.least, setting.most), D::AngularSpeed);
            return Err(Refusal::new(format!("a spring of {name}: it must engage between {least} and {most}{meant}")));
        }
        if springs.iter().any(|other| other.name == name) {
            return Err(Refusal::new(format!("the spring of {name} stands there twice")));
        }
        springs.push(Spring { name, engagement, rate: None });
    }
    if springs.is_empty() {
        return Err(Refusal::new("no spring stands there: write their engagement speeds, \"1900, 2200\""));
    }
    Ok(springs)
}
