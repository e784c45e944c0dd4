//! Table of all words of the script language: arguments, meaning, and an example that runs.

use crate::read::units::UNITS;

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

/// One word.
#[derive(Clone, Copy, Debug)]
pub struct Word {
    /// name
    pub name: &'static str,
    /// object on which it is used
    pub on: On,
    /// arguments with their units
    pub arguments: &'static str,
    /// meaning
    pub meaning: &'static str,
    /// example line that runs
    pub example: &'static str,
    /// whether the example is a whole script
    whole: bool,
}

const fn word(
    on: On,
    name: &'static str,
    arguments: &'static str,
    meaning: &'static str,
    example: &'static str,
) -> Word {
    Word { name, on, arguments, meaning, example, whole: false }
}

/// A word that states what a script studies: its example is a whole script.
const fn study(name: &'static str, arguments: &'static str, meaning: &'static str, example: &'static str) -> Word {
    Word { name, on: On::Script, arguments, meaning, example, whole: true }
}

use On::{Duty as D, Machine as M, Ride as R, Script as S};

/// Whether a word or unit with that name exists.
pub fn holds(name: &str) -> bool {
    WORDS.iter().any(|word| word.name == name) || UNITS.iter().any(|unit| unit.word == name)
}

/// The readings of a ride: words without arguments, as in `ride.fill`.
pub(crate) fn readings() -> impl Iterator<Item = &'static str> {
    WORDS.iter().filter(|word| word.on == On::Ride && word.arguments.is_empty()).map(|word| word.name)
}

/// Every word except the units.
pub static WORDS: &[Word] = &[
    word(S, "title", "(text)", "says what the study asks", r#"title("Which spring?");"#),
    word(S, "param", "(name, default)", "a number that --set NAME=VALUE can change", r#"let rows = param("rows", 6);"#),
    word(
        S,
        "machine",
        "(name)",
        "reads a machine from NAME.json beside the script or in ../parts; \"example\" is built in",
        r#"let cart = machine("orchard-cart");"#,
    ),
    word(
        S,
        "trace",
        "(name)",
        "reads a speed trace from NAME.csv beside the script or in ../parts",
        r#"let town = trace("ece15.csv");"#,
    ),
    word(
        S,
        "recording",
        "(name)",
        "reads a recorded ride, NAME.csv or NAME.gpx, cleans it and prints what that changed; to be followed like a trace",
        r#"let ridden = recording("ece15.csv");"#,
    ),
    word(
        S,
        "duty",
        "(name, function)",
        "names a duty: a function that is given a ride",
        r#"fn rest(ride) { ride.idle(30.s); } let d = duty("rest", Fn("rest"));"#,
    ),
    study(
        "compare",
        "(machines, duties)",
        "asks for a run of every machine under every duty",
        r#"compare([machine("example")], [duty("rest", |ride| ride.idle(30.s))]);"#,
    ),
    study(
        "reference",
        "(machine)",
        "says which of the machines compared the others are held against; without it the first",
        r#"let usual = machine("example"); reference(usual); compare([usual, usual.spring(2200.rpm)], duty("rest", |ride| ride.idle(30.s)));"#,
    ),
    study(
        "fleet",
        "(clutches, seed)",
        "runs every comparison for this many clutches, sampled over what is uncertain: when the first part is worn out, oil set apart, and when the oil is due; duties must be repeated",
        r#"let day = duty("day", |ride| { ride.idle(30.s); ride.motor_off(1.hours); }).repeated(50.hours); compare(machine("example"), day); fleet(3, 7);"#,
    ),
    study(
        "choose",
        "(machine, use) or (machine, use, options)",
        "asks which spring to fit; a use is \"moderate\", \"rental\", \"hard\" or a duty; options: idle, wander, grade, load, crawl, season, stock, power, rated",
        r#"choose(machine("orchard-cart"), "rental", #{ wander: 75.rpm, grade: 0.04, load: 60.kg, stock: "springs" });"#,
    ),
    study(
        "gaps",
        "(machine, use) or (machine, use, options)",
        "asks whether drum and cover clear each other, and until when; options: cover, cover_tolerance, seed, assemblies",
        r#"gaps(machine("orchard-cart"), "rental", #{ cover: -10.thou, cover_tolerance: 2.thou });"#,
    ),
    study(
        "oiling",
        "(machine, use) or (machine, use, options)",
        "asks when and how to oil; options: riding, rest, drops, found, grease",
        r#"oiling(machine("orchard-cart"), "rental", #{ riding: 40.min, drops: 4 });"#,
    ),
    word(
        S,
        "steps",
        "(first, last, number)",
        "a list of this many values, evenly spaced, both ends included",
        "let speeds = steps(1600.rpm, 2000.rpm, 5);",
    ),
    study(
        "sweep",
        "(machines, duties)",
        "runs every machine under every duty for a summary: a table, a heat map",
        r#"let carts = machine("example").varied("clutch.engagement", [1700.rpm, 1900.rpm]); sweep(carts, duty("rest", |ride| ride.idle(30.s)));"#,
    ),
    study(
        "matters",
        "(machines, duties) or (machines, duties, rows)",
        "asks which uncertain settings move the life: each by itself, and with a number of samples (a power of two) also its share of the variance of the life",
        r#"matters(machine("example"), duty("rest", |ride| ride.idle(30.s)));"#,
    ),
    word(S, "normal", "(deviation)", "a spread: normal, of that standard deviation", "let s = normal(30.rpm);"),
    word(S, "factor", "(number)", "a spread: 90 % lie within that factor of the nominal value", "let s = factor(2);"),
    word(
        S,
        "uniform",
        "(half width)",
        "a spread: evenly spread within this half width of the nominal value",
        "let s = uniform(75.rpm);",
    ),
    word(
        S,
        "triangular",
        "(half width)",
        "a spread: most likely at the nominal value, never further off than this half width",
        "let s = triangular(0.2.mm);",
    ),
    word(S, "celsius", "(number)", "a temperature in degrees Celsius", r"let t = celsius(20);"),
    word(S, "fahrenheit", "(number)", "a temperature in degrees Fahrenheit", r"let t = fahrenheit(68);"),
    word(
        M,
        "spring",
        "(speed)",
        "the machine with springs that engage at that speed",
        "let softer = cart.spring(1700.rpm);",
    ),
    word(
        M,
        "having",
        "(setting, value)",
        "the machine with one setting changed, by its path",
        r#"let heavy = cart.having("vehicle.mass", 250.kg);"#,
    ),
    word(
        M,
        "lined",
        "(kind)",
        "the machine with a woven, moulded or sintered lining",
        r#"let lined = cart.lined("sintered");"#,
    ),
    word(
        M,
        "formed",
        "(form)",
        "the machine with floating, leading, trailing or wedge shoes",
        r#"let leading = cart.formed("leading");"#,
    ),
    word(
        M,
        "spread",
        "(setting, spread) or (setting, spread, draw)",
        "the machine of a fleet, one setting of it spread; settings with the same draw vary together",
        r#"let real = cart.spread("motor.idle", uniform(75.rpm));"#,
    ),
    word(
        M,
        "calibrated",
        "(name)",
        "the machine with the constants that `slipsoak calibrate` learned, from NAME.json beside the script or in ../parts; a fleet is spread, and its constants drawn together, as far as the data leave them open",
        r#"let real = cart.calibrated("trail-cart-calibration");"#,
    ),
    word(
        M,
        "varied",
        "(setting, values)",
        "a list of machines, one for each value of a setting; of a list of machines, every machine with every value",
        r#"let carts = cart.varied("motor.idle", [1650.rpm, 1700.rpm]).varied("surroundings.grade", [0, 0.05]);"#,
    ),
    word(M, "oiled", "(oil)", "the machine with another oil in its bushing", r#"let thin = cart.oiled("SAE 20");"#),
    word(
        M,
        "called",
        "(text)",
        "the machine under another name in tables and figures",
        r#"let other = cart.called("as delivered");"#,
    ),
    word(M, "name", "", "reads the machine's name", r"let name = cart.name;"),
    word(
        D,
        "repeated",
        "(time)",
        "repeats the duty until that time or until a part is worn out, running in full only what it must",
        "let season = week.repeated(300.hours);",
    ),
    word(R, "idle", "(time)", "throttle closed, brake on until still, motor idling", "ride.idle(30.s);"),
    word(
        R,
        "launch",
        "(speed) or (speed, opening)",
        "full throttle, or this opening (0 to 1), until the speed is reached",
        "ride.launch(25.km_h);",
    ),
    word(R, "throttle", "(opening, time)", "throttle held open by this share, 0 to 1", "ride.throttle(0.5, 20.s);"),
    word(R, "hold", "(speed, time)", "throttle controlled to hold a speed", "ride.hold(25.km_h, 12.s);"),
    word(R, "coast", "(time)", "throttle closed, brake off: the machine may creep or roll", "ride.coast(5.s);"),
    word(
        R,
        "brake",
        "(deceleration) or (deceleration, time)",
        "slows at this deceleration until still, or for a time",
        "ride.brake(1.5);",
    ),
    word(
        R,
        "brake_to",
        "(speed) or (speed, deceleration)",
        "slows to a lower speed, at 1.5 m/s² or at this deceleration",
        "ride.launch(25.km_h); ride.brake_to(10.km_h);",
    ),
    word(
        R,
        "follow",
        "(trace)",
        "throttle and brake controlled to follow a recorded trace",
        r#"ride.follow(trace("ece15.csv"));"#,
    ),
    word(R, "motor_off", "(time)", "motor switched off, brake on", "ride.motor_off(10.min);"),
    word(R, "park", "(time)", "put away with the motor off, for hours", "ride.park(12.hours);"),
    word(R, "oil", "(drops, oil)", "this many drops of an oil onto the bushing", r#"ride.oil(4, "SAE 30");"#),
    word(R, "grease", "(volume)", "grease into the grooves that holds this volume of oil", "ride.grease(0.1.mL);"),
    word(R, "set_fill", "(fill)", "sets the oil fill of the bushing, 0 to 1", "ride.set_fill(0.7);"),
    word(R, "new_lining", "()", "a new lining", "ride.new_lining();"),
    word(R, "new_washer", "()", "a new washer, soaked in oil", "ride.new_washer();"),
    word(R, "new_bushing", "()", "a new bushing, full of oil", "ride.new_bushing();"),
    word(R, "new_spring", "(speed)", "fresh springs that engage at that speed", "ride.new_spring(1900.rpm);"),
    word(
        R,
        "adjust",
        "(setting, value)",
        "changes one setting from here on, by its path",
        r#"ride.adjust("motor.idle", 1600.rpm);"#,
    ),
    word(R, "ambient", "(temperature)", "changes the temperature of the air", "ride.ambient(35.degC);"),
    word(R, "wind", "(speed)", "changes the wind over the drum", "ride.wind(10.km_h);"),
    word(R, "grade", "(slope)", "changes the slope of the road, rise over run", "ride.grade(0.05);"),
    word(
        R,
        "celsius",
        "(part)",
        "reads a temperature, °C",
        r#"while ride.celsius("lining surface") > 150 { ride.idle(10.s); }"#,
    ),
    word(
        R,
        "fahrenheit",
        "(part)",
        "reads a temperature, °F",
        r#"if ride.fahrenheit("bushing") > 194 { ride.motor_off(5.min); }"#,
    ),
    word(R, "reading", "(channel)", "reads any channel in its SI unit", r#"let worn = ride.reading("lining wear");"#),
    word(
        R,
        "fill",
        "",
        "reads the bushing's oil over a full bushing's, 0 to 1",
        r#"if ride.fill < 0.6 { ride.oil(4, "SAE 30"); }"#,
    ),
    word(R, "clock", "", "reads the time since the start, s", "while ride.clock < 1.min { ride.idle(20.s); }"),
    word(
        R,
        "engagement",
        "",
        "reads the engagement speed as it is now, rad/s",
        "let margin = ride.engagement - 1700.rpm;",
    ),
    word(R, "speed", "", "reads the speed over ground, m/s", "let slow = ride.speed < 5.km_h;"),
];

impl Word {
    /// A complete script around the example.
    pub fn script(&self) -> String {
        let example = self.example;
        match self.on {
            S if self.whole => example.to_owned(),
            S => format!("{example}\ncompare(machine(\"example\"), duty(\"still\", |ride| ride.idle(1.s)));\n"),
            M => format!(
                "let cart = machine(\"example\");\n{example}\ncompare(cart, duty(\"still\", |ride| ride.idle(1.s)));\n"
            ),
            D => format!(
                "fn rides(ride) {{ ride.idle(30.s); ride.launch(20.km_h); ride.brake(1.5); ride.motor_off(10.hours); }}\nlet week = duty(\"a week\", Fn(\"rides\"));\n{example}\ncompare(machine(\"example\"), season);\n"
            ),
            R => format!(
                "fn example(ride) {{\n    {example}\n    ride.idle(1.s);\n}}\ncompare(machine(\"example\"), duty(\"example\", Fn(\"example\")));\n"
            ),
        }
    }
}
