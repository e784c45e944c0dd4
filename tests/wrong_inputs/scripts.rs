//! Wrong scripts.

/// A script, and the parts of its message; `RIDE` stands for what a duty does.
pub const SCRIPTS: &[(&str, &[&str])] = &[
    ("RIDE: for i in range(60) { ride.idle(1.s); }", &["script.rhai:1:57", "`range`", "for i in 0..60"]),
    ("RIDE: for (i = 0; i < 3; i++) { ride.idle(1.s); }", &["for i in 0..60"]),
    (
        "machine(\"weekend-cart\").calibrated(\"trail-cart-calibration\");",
        &[
            "trail-cart-calibration.json: lining.wear was learned on the woven lining of the trail cart",
            "that of this machine is moulded",
            "calibrate this machine",
        ],
    ),
    ("RIDE: if ride.clock() < 9.s { ride.idle(1.s); }", &["`clock` is written without brackets", "ride.clock < "]),
    ("RIDE: if ride.fill() < 0.8 { ride.idle(1.s); }", &["`fill` is written without brackets", "ride.fill"]),
    ("RIDE: ride.stop_motor(20.s);", &["did you mean `motor_off`?", "write", "ride.motor_off(20.s);"]),
    ("RIDE: ride.start_motor();", &["did you mean `idle`?", "ride.idle(30.s);"]),
    ("RIDE: ride.idle(15 s);", &["a unit stands behind a point", "15.s"]),
    ("RIDE: ride.set_fill(70%);", &["70.percent"]),
    ("RIDE: ride.set_fill(200.percent);", &["its oil fill is 200 %; it must lie between 0 % and 100 %"]),
    ("RIDE: ride.set_fill(70);", &["its oil fill is 70", "70 is 7000 %; 70 % is 70.percent in a script"]),
    (
        "compare([1600, 1700].rpm.map(|n| machine(\"example\").spring(n)), duty(\"d\", |r| r.idle(2.s)));",
        &["`.rpm` stands behind a list", "`[1600.rpm, 1700.rpm]`", "`[1600, 1700].map(|n| n.rpm)`"],
    ),
    (
        "RIDE: ride.oil(0.1.oz);",
        &["`oil`: its oil is 0.1.oz, a mass", "such as `4`", "`0.1.mL` (its units: mL, mm3, cm3)"],
    ),
    (
        "gaps(machine(\"example\").having(\"cover.proud_tolerance\", 70.thou), \"rental\");",
        &["cover.proud is 1.651 mm", "cover.proud_tolerance, 1.778 mm", "a tolerance up to the size"],
    ),
    ("RIDE: ride.grade(15); ride.idle(1.s);", &["surroundings.grade is 15", "between -0.5 and 0.5", "15.percent"]),
    ("RIDE: ride.hold(25.km_h; 20.s);", &["a comma stands between arguments"]),
    ("RIDE: ride.launch(25 kmh);", &["25.km_h"]),
    ("RIDE: ride.idle(30.s)\nride.idle(30.s);", &["script.rhai:1:", "a semicolon is missing here"]),
    ("RIDE: ride.hold(20.km_h);", &["1 argument; it takes 2", "`ride.hold(speed, time)`"]),
    ("RIDE: ride.idle(5 Minuten);", &["`Minuten` is a unit", "`5.min`"]),
    ("RIDE: ride.idle(1,5.min);", &["two times", "`idle(1.5.min)`"]),
    (
        "RIDE: ride.idle(20.degC);",
        &["script.rhai:1:", "its time is 20.degC, a temperature", "a time is needed, such as `2.s`"],
    ),
    ("RIDE: ride.idle(30.s + 25.km_h);", &["script.rhai:1:", "30.s, a time, and 25.km_h, a speed of the road"]),
    (
        "RIDE: ride.idle(30.s.min);",
        &["script.rhai:1:", "a quantity that has its unit, 30.s, a time", "leave `.min` away"],
    ),
    (
        "machine(\"example\").varied(\"clutch.engagement\", [1800.rpm, 200.kg]);",
        &["script.rhai:1:", "its value is 200.kg, a mass", "a speed of the motor is needed, such as `2000.rpm`"],
    ),
    (
        "machine(\"example\").spread(\"motor.idle\", uniform(0.2.mm));",
        &["the width for `motor.idle` is 0.2.mm, a length", "a speed of the motor is needed, such as `2000.rpm`"],
    ),
    // settings that contradict each other
    (
        "compare(machine(\"example\").having(\"motor.full_load\", 4000.rpm), duty(\"d\", |ride| { ride.idle(2.s); }));",
        &["motor.full_load, 4000 rpm, is not below motor.no_load, 3800 rpm", "correct one of them"],
    ),
    (
        "compare(machine(\"example\").having(\"clutch.guide_friction\", 190.N).having(\"clutch.engagement\", 600.rpm), duty(\"d\", |ride| { ride.idle(2.s); }));",
        &["clutch.guide_friction is 190 N, and the spring pulls a shoe off the drum by ", "higher clutch.engagement"],
    ),
    (
        "compare(machine(\"example\").having(\"clutch.shoes\", 8).having(\"springs.second\", 1.1), duty(\"d\", |ride| { ride.idle(2.s); }));",
        &["clutch.shoes is 8, and springs that differ are followed for up to 6 shoes", "set springs.scatter to 0"],
    ),
    // several wrong values: one message names all
    (
        "compare(machine(\"example\").lined(\"cork\").spring(99.rpm), duty(\"d\", |ride| { ride.idle(-2.s); ride.oil(900); }));",
        &[
            "the lining `cork` is not known",
            "clutch.engagement is 99 rpm",
            "`idle`: its time is -2 s",
            "`oil`: its number of drops is 900",
        ],
    ),
    (
        "let cart = machine(\"nowhere\");\ncompare(cart, duty(\"d\", |ride| { ride.hold(900.km_h, 5.s); }));",
        &["no machine `nowhere.json`", "line 2", "900 km/h"],
    ),
    // several wrong options: one message names all
    (
        "choose(machine(\"example\"), \"rental\", #{ wandr: 75.rpm, grad: 0.04, idle: 3.kg, load: 9.kg });",
        &[
            "script.rhai:1:",
            "no options `grad` (did you mean `grade`?), `wandr` (did you mean `wander`?); its options: idle,",
            "its idle is 3.kg, a mass",
        ],
    ),
    (
        "choose(machine(\"example\"), \"rental\", #{ wandr: 75.rpm });",
        &["`choose` has no option `wandr` (did you mean `wander`?); its options: idle,"],
    ),
    ("machine(\"example\").lined(\"organic\");", &["either of two", "\"woven\" or \"moulded\""]),
    ("let go = 5;", &["`go`", "another name", "`my_go`"]),
    ("def day(ride): ride.idle(1.s)", &["fn day(ride) { … }"]),
    ("print \"x\";", &["`print(", "brackets"]),
    ("let cart = machine(\"example\");", &["compares nothing", "compare("]),
    ("machine(\"example\").spring(1700);", &["1700 without a unit", "`1700.rpm`"]),
    ("part(\"weekend-cart\");", &["no word `part`", "did you mean `machine`?"]),
    (
        "choose(machine(\"example\"), \"rental\", #{ grade: -10.percent });",
        &["script.rhai:1:", "grade is -10 %", "between 0 % and 50 %", "leave its minus away"],
    ),
    (
        "machine(\"example\").spread(\"springs.fifth\", normal(0.03));",
        &["script.rhai:1:", "springs.fifth belongs to a shoe that the clutch does not have", "clutch.shoes is 4"],
    ),
    (
        "sweep(machine(\"example\").varied(\"clutch.shoes\", []), duty(\"d\", |ride| ride.idle(9.s)));",
        &["script.rhai:1:", "`varied` was given an empty list of values"],
    ),
    ("RIDE: ride.oil(3);", &["script.rhai:1:", "the duty `d` takes no time", "`ride.idle(30.s)`"]),
    (
        "RIDE: ride.idle(machine(\"example\"));",
        &["`idle` needs a number for its time, not a machine", "script.rhai:1:"],
    ),
    ("machine(\"nowhere\");", &["no machine `nowhere.json` beside the script", "looked in"]),
];
