//! Quantities in scripts: no setting takes one of another kind, and arithmetic works on them as on numbers.

use crate::common::{check, runs};
use slipsoak::Script;
use slipsoak::language::limits::Limits;
use slipsoak::study::request::Request;
use slipsoak::study::{Study, asked};
use slipsoak_engine::parts::{Dimension, PARAMETERS};
use slipsoak_engine::parts_file::UNITS;
use std::collections::BTreeMap;
use std::path::PathBuf;

fn script(text: String) -> Script {
    Script { path: PathBuf::from("example.rhai"), name: "example.rhai".to_owned(), text }
}

/// The message of a script that is refused at once, or when its duty reads the ride.
fn refused(text: &str) -> String {
    let script = script(text.to_owned());
    let done = check(&script, Limits::default()).and_then(|_| runs(&script, &BTreeMap::new(), Some(1)).map(drop));
    let message = done.expect_err(text).render(false);
    message.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// What a script prints whose duty does this, one function defined before.
fn printed(function: &str, duty: &str) -> String {
    let text = format!("{function} compare(machine(\"example\"), duty(\"d\", |ride| {{ ride.idle(1.s); {duty} }}));");
    let (script, none, mut lines) = (script(text.clone()), BTreeMap::new(), vec![]);
    let request = Request::of(&script, &none, Limits::default());
    let Ok(Study::Runs(runs)) = asked(&request, (1, 1), &mut |_| ()) else { panic!("{text}") };
    if let Err(trouble) = runs.perform(Some(1), |_| (), &mut |heard| lines.extend(heard)) {
        panic!("{text}: {}", slipsoak::Error::from(trouble).render(false));
    }
    lines.join(" ")
}

const END: &str = "compare(cart, duty(\"d\", |ride| ride.idle(1.s)));";

#[test]
fn a_setting_takes_quantities_of_its_own_kind_alone() {
    // The least that a setting may be, in every unit: its own are taken, others are refused with the value and what is needed.
    let mut seen = [0, 0];
    for dimension in
        [Dimension::AngularSpeed, Dimension::Mass, Dimension::Temperature, Dimension::Ratio, Dimension::Length]
    {
        let p = PARAMETERS.iter().find(|p| p.dimension == dimension && p.default != 0.0).expect("a setting");
        for unit in UNITS {
            let number = unit.from_si(p.default);
            let text =
                format!("let cart = machine(\"example\").having(\"{}\", {number:?}.{}); {END}", p.path, unit.word);
            if unit.dimension == dimension {
                seen[0] += 1;
                let checked = check(&script(text.clone()), Limits::default());
                assert!(checked.is_ok(), "{text}: {}", checked.unwrap_err().render(false));
            } else {
                seen[1] += 1;
                let message = refused(&text);
                assert!(
                    message.contains("`having`: its value is ") && message.contains("is needed"),
                    "{text}: {message}"
                );
                assert!(message.contains("example.rhai:1:"), "{message}");
            }
        }
    }
    assert!(seen[0] >= 15 && seen[1] > 150, "{seen:?}");
}

#[test]
fn wherever_a_script_takes_a_quantity_one_of_another_kind_is_refused() {
    for (call, value, needed) in [
        (
            "cart.varied(\"clutch.engagement\", [1800.rpm, 200.kg])",
            "its value is 200.kg, a mass",
            "motor is needed, such as `2000.rpm`",
        ),
        ("cart.varied(\"clutch.engagement\", steps(200.kg, 300.kg, 3))", "200.kg, a mass", "motor is needed"),
        ("cart.having(\"surroundings.ambient\", 20.m)", "20.m, a length", "a temperature is needed, such as `2.degC`"),
        (
            "cart.having(\"vehicle.mass\", 2 * 100.rpm)",
            "200.rpm, a speed of the motor",
            "a mass is needed, such as `120.kg`",
        ),
        ("cart.having(\"vehicle.mass\", param(\"mass\", 5.km_h))", "5.km_h, a speed of the road", "a mass is needed"),
        ("cart.spring(60.s)", "1.min, a time", "motor is needed"),
        ("cart.at_altitude(20.degC)", "20.degC, a temperature", "a length is needed"),
        (
            "duty(\"d\", |ride| ride.idle(20.degC))",
            "its time is 20.degC, a temperature",
            "a time is needed, such as `2.s`",
        ),
        (
            "duty(\"d\", |ride| ride.brake(15.km_h))",
            "15.km_h, a speed of the road",
            "an acceleration is needed, such as `2.m_s2`",
        ),
        ("duty(\"d\", |ride| ride.oil(4.kg))", "its oil is 4.kg, a mass", "a number of drops is needed"),
        ("duty(\"d\", |ride| ride.throttle(20.s, 0.5))", "its opening is 20.s, a time", "a plain number is needed"),
        ("duty(\"d\", |ride| ride.ambient(5.K))", "5.K, a difference of temperatures", "a temperature is needed"),
        ("duty(\"d\", |ride| ride.grade(8.deg))", "8.deg, an angle", "a plain number is needed"),
        ("duty(\"d\", |ride| ride.idle(ride.speed))", "a speed of the road", "a time is needed"),
        ("duty(\"d\", |ride| ride.idle(1.s)).repeated(300.km_h)", "its time is 300.km_h", "a time is needed"),
        (
            "cart.spread(\"motor.idle\", uniform(0.2.mm))",
            "the width for `motor.idle` is 0.2.mm, a length",
            "motor is needed",
        ),
        (
            "cart.spread(\"surroundings.ambient\", normal(5.degC))",
            "5.degC, a temperature",
            "temperatures is needed, such as `2.K`",
        ),
        ("choose(cart, \"rental\", #{ wander: 30.kg })", "its wander is 30.kg, a mass", "motor is needed"),
        ("fleet(20.s, 7)", "its number of clutches is 20.s, a time", "a plain number is needed"),
    ] {
        let message = refused(&format!(
            "let cart = machine(\"example\"); let x = {call}; compare(cart, if type_of(x) == \"duty\" {{ x }} else {{ duty(\"d\", |ride| ride.idle(1.s)) }});"
        ));
        assert!(
            message.contains(value) && message.contains(needed) && message.contains("example.rhai:1:"),
            "{call}: {message}"
        );
    }
}

#[test]
fn sums_and_comparisons_of_different_kinds_are_refused_with_both_values() {
    for (expression, expected) in [
        ("30.s + 25.km_h", "`+` needs two of one kind, not 30.s, a time, and 25.km_h, a speed of the road"),
        ("30.s - 25.km_h / 1.5", "as in `25.km_h / 1.5.m_s2`, which gives seconds"),
        ("ride.speed > 15.rpm", "`>` needs two of one kind"),
        ("ride.celsius(\"bushing\") > 80.degC", "write 80 in place of 80.degC"),
        ("ride.celsius(\"bushing\") > 80.degC", "let a = ride.celsius(\"bushing\") > 80; }"),
        ("20.degC + 5.degC", "as 5.K"),
        ("max(30.s, 2.kg)", "`max` needs two of one kind"),
        ("[30.s, 2.kg].sort()", "`sort` needs two of one kind"),
        ("30.s.min", "`.min` stands behind a quantity that has its unit, 30.s, a time; leave `.min` away"),
    ] {
        let message = refused(&format!(
            "let cart = machine(\"example\"); compare(cart, duty(\"d\", |ride| {{ ride.idle(1.s); let a = {expression}; }}));"
        ));
        assert!(message.contains(expected) && message.contains("example.rhai:1:"), "{expression}: {message}");
    }
}

#[test]
fn arithmetic_on_quantities_gives_what_it_gave_on_numbers() {
    for (expression, shown) in [
        ("2 * 30.s", "60.0"),
        ("20.km_h * 3.6", "20.0"),
        ("90.s / 2", "45.0"),
        ("1.min / 30.s", "2.0"),
        ("200.m / 10.m_s", "20.0"),
        ("25.km_h / 2.m_s2 + 0", "3.4722222222222223"),
        ("30.s + 1.min - 5", "85.0"),
        ("5 + 30.s", "35.0"),
        ("-(30.s)", "-30.0"),
        ("70.s % 1.min", "10.0"),
        ("30.degC - 20.degC", "10.0"),
        ("(20.degC + 5.K - 273.15)", "25.0"),
        ("max(30.s, 20)", "30.0"),
        ("min(30.s, 1.min)", "30.0"),
        ("90.s.to_int()", "90"),
        ("(1.5.min / 7.0).round()", "13.0"),
        ("4.s ** 2", "16.0"),
        ("sin(90.deg)", "1.0"),
        ("85.percent * 2", "1.7"),
        ("0.5 + 50.percent", "1.0"),
        ("3.drops + 1", "4.0"),
        ("`${30.s} and ${1.min}`", "30.0 and 60.0"),
        ("\"a \" + 30.s", "a 30.0"),
        ("[30.s, 2.min]", "[30.0, 120.0]"),
        ("#{ rest: 30.s }.rest", "30.0"),
        ("[2.min, 30.s, 45]", "[120.0, 30.0, 45]"),
        ("[30.s, 1.min].contains(60.s)", "true"),
        ("30.s == 30", "true"),
        ("1.kg == 1.s", "false"),
        ("30.s > 20 && 20 < 30.s && 30.s >= 0.5.min && 1 <= 2.s", "true"),
        ("[1.s, 2.s].reduce(|sum, x| sum + x, 0.0)", "3.0"),
        ("steps(1.min, 2.min, 3)", "[60.0, 90.0, 120.0]"),
        ("ride.clock < 1.min && ride.clock > 0 && ride.clock == 1.s", "true"),
        ("ride.clock / 1.s", "1.0"),
        // The SI unit behind a quantity changes nothing.
        ("(ride.clock * 2).s", "2.0"),
        ("ride.speed < 15.km_h && ride.engagement > 1000.rpm && ride.fill > 0.5", "true"),
        ("ride.reading(\"lining wear\") < 1.mm", "true"),
        ("ride.celsius(\"bushing\") < 80", "true"),
    ] {
        assert_eq!(printed("", &format!("print({expression});")), shown, "{expression}");
    }
    for (statements, shown) in [
        ("let t = 0.0; t += 30.s; t -= 10; t *= 2; print(t);", "40.0"),
        ("let t = 30.s; t += 1.min; print(t);", "90.0"),
        (
            "let a = [2.min, 30.s, 45]; a.sort(); print(a); a.sort_desc(); print(a);",
            "[30.0, 45, 120.0] [120.0, 45, 30.0]",
        ),
        ("let a = [\"b\", \"a\"]; a.sort(); print(a);", "[\"a\", \"b\"]"),
        ("for t in range(0, 60.s, 20.s) { print(t); }", "0.0 20.0 40.0"),
        ("print(twice(30.s));", "60.0"),
        ("let rest = 30.s - ride.clock; if rest > 0.0 { ride.idle(rest); } print(ride.clock);", "30.0"),
        ("switch 30.s > 20 { true => print(\"yes\"), _ => print(\"no\") }", "yes"),
    ] {
        assert_eq!(printed("fn twice(x) { 2 * x }", statements), shown, "{statements}");
    }
}
