//! Wrong inputs, each with the parts that its message must hold: what is wrong, where, the value with its unit, and what to do.

use crate::common::{refusal, slipsoak};
use std::fs;
use std::path::Path;

/// Files that the commands name.
const FILES: &[(&str, &str)] = &[
    ("ok.rhai", "compare(machine(\"example\"), duty(\"d\", |r| r.idle(2.s)));\n"),
    ("empty.rhai", ""),
    ("picture.rhai", "\u{89}PNG\r\n\u{1a}\n\0\u{1}"),
    ("picture.json", "\u{89}PNG\r\n\u{1a}\n\0\u{1}"),
    ("ride.csv", "time [s],speed [km/h]\n0,0\n9,9\n"),
    ("empty.csv", ""),
    ("heads.csv", "Time,Drum,bushing [bar]\n0,20,20\n60,30,21\n"),
    ("slips.json", "{name: 'cart', // mine\n\"vehicle\": {\"mass\": 160 kg,}, \"motor\": {\"idle\": 1750}}"),
    ("gap.json", "{\"vehicle\": {\"mass\": \"160 kg\" \"ratio\": 6}}"),
    ("flat.json", "{\"vehicle.mass\": \"160 kg\"}"),
    ("texts.json", "{\"springs\": [\"1900 rpm\"]}"),
    ("headless.csv", "0,0\n9,9\n"),
    ("mixed.csv", "time [s],speed [km/h]\n0;0\n9;9\n"),
    ("a.gpx", "<gpx></gpx>"),
    ("springs.json", "{\"springs\": [{\"name\": \"a\", \"engagement\": \"1900 rpm\"}]}"),
    ("few.json", "{\"springs\": []}"),
    ("bare-spring.json", "{\"springs\": [{\"name\": \"a\", \"engagement\": \"1900\"}]}"),
    ("cart.json", "{\"vehicle\": {\"mass\": \"160 kg\"}}"),
    ("comma.json", "{\"vehicle\": {\"mass\": \"160 kg\"},}"),
    ("tonne.json", "{\"vehicle\": {\"mass\": \"0,16 t\"}}"),
    ("bare.json", "{\"vehicle\": {\"mass\": 160}}"),
    ("twice.json", "{\"vehicle\": {\"mass\": \"160 kg\", \"mass\": \"170 kg\"}}"),
    ("weight.json", "{\"vehicle\": {\"weight\": \"160 kg\"}}"),
    ("smart.json", "{“vehicle”: 1}"),
    ("list.json", "[1, 2]"),
    ("half.json", "{\"clutch\": {\"shoes\": 2.5}}"),
    ("lining.json", "{\"lining_kind\": \"sintred\"}"),
    ("torque.json", "{\"motor\": {\"torque\": [[\"1800 rpm\", \"10\"]]}}"),
    ("vehicel.json", "{\"vehicel\": {}}"),
    ("empty.json", ""),
    ("burns.json", "{\"vehicle\": {\"mass\": \"600 kg\", \"ratio\": 3}}"),
];

/// A command line, and the parts of its message.
type Refused = (&'static [&'static str], &'static [&'static str]);

const COMMANDS: &[Refused] = &[
    (
        &["sheet", "slips.json"],
        &[
            "slips.json has 6 mistakes",
            "line 1, column 2: names of settings",
            "comments",
            "take away the comma",
            "1750 rpm",
        ],
    ),
    (&["sheet", "gap.json"], &["gap.json, line 1, column 31", "is a comma missing before it?"]),
    (&["sheet", "flat.json"], &["`vehicle.mass` stands within its part", "\"vehicle\": {\"mass\": …}"]),
    (&["choose", "--stock", "texts.json"], &["texts.json, line 1", "\"1900 rpm\"", "\"engagement\": \"1900 rpm\""]),
    (&["retrace", "headless.csv"], &["headless.csv, line 1", "first line holds numbers", "names the columns"]),
    (&["retrace", "mixed.csv"], &["mixed.csv, line 2", "1 column, the head 2", "separator is not the head's"]),
    (&["ok.rhai"], &["'ok.rhai'", "`slipsoak run ok.rhai` runs a script"]),
    (&["orchard"], &["'orchard'", "`slipsoak run orchard` runs the shipped script"]),
    (&["cart.json"], &["'cart.json'", "`slipsoak sheet cart.json` takes a machine"]),
    (&["ride.csv"], &["'ride.csv'", "`slipsoak retrace ride.csv` follows"]),
    (
        &["choose", "--springs", "1900-2200"],
        &["--springs", "`-2200`", "commas stand between springs", "\"1900, 2200\""],
    ),
    (&["choose", "--idle", "1700 ± 75"], &["--idle: `1700 ± 75` has a tolerance", "\"1700\"", "--wander"]),
    (&["choose", "--lining", "organic"], &["--lining", "`organic` may be either of two", "\"woven\" or \"moulded\""]),
    (&["measure", "spring"], &["`spring` is no machine", "--for spring"]),
    // several wrong values, options, columns and settings: one message names all
    (
        &["choose", "--hp", "6.5", "--idle", "1850", "--wheel", "330", "--ratio", "0.5", "--weight", "160"],
        &[
            "--power: 6.5 has no unit",
            "\"6.5 hp\"",
            "--wheel: 330 has no unit",
            "--gears: 0.5",
            "--mass: 160 has no unit",
        ],
    ),
    (
        &["gaps", "--washer", "0.030", "--bushing", "0,065 in"],
        &["--washer: 0.030 has no unit", "\"0.030 inch\"", "--proud", "decimal point"],
    ),
    (
        &[
            "season",
            "--from",
            "1 April",
            "--to",
            "October",
            "--temperatures",
            "8, 12",
            "--days",
            "Wensday",
            "--hours",
            "6 m",
        ],
        &["--hours", "`m` is no unit", "--from: `1 April`", "--to: `October`", "--temperatures", "--days: `Wensday`"],
    ),
    (
        &["sheet", "example", "--set", "mass=160", "--set", "vehicle.mass=160", "--set", "clutch.shoes=2.5"],
        &["no setting `mass`", "160 has no unit", "clutch.shoes is 2.5"],
    ),
    (
        &["choose", "--lenght", "3", "--springss", "1900", "--ideal", "2"],
        &["'--lenght'", "'--springss' either; did you mean `--springs`?", "'--ideal' either; did you mean `--idle`?"],
    ),
    (&["report", "record.json", "--colour"], &["'--colour'", "--out <FILE.html> is missing too"]),
    (&["gather", "ok.rhai", "a.jsonl", "--outt"], &["'--outt'", "a similar argument exists: '--out'"]),
    (
        &["calibrate", "ok.rhai", "--log", "heads.csv"],
        &[
            "column `time`: the head gives no unit",
            "`time [UNIT]`",
            "column `band`",
            "column `bushing`: `bar` is no unit",
        ],
    ),
    (&["oiling", "rental"], &["`rental` is a use", "--use rental"]),
    (&["run", "ok.rhai", "--csv"], &["'--csv'", "`run --out DIR` writes tables as CSV"]),
    (&["run", "ok.rhai", "--pdf"], &["'--pdf'", "print as PDF from a browser"]),
    (
        &["draw", "saved", "--out", "d", "--figure", "temperature"],
        &["no figure `temperature`", "did you mean `temperatures"],
    ),
    (&["draw", "saved", "--out", "d", "--at", "10 min after lunch"], &["lunch", "\"stop + 10 min\"", "events:"]),
    (&["run", "ok.rhai", "--set", "carts=20"], &["no parameter `carts`", "`param(\"carts\", 1)`"]),
    (&["check", "ok.rhai", "--corrected", "ok.rhai"], &["--corrected", "in order", "nothing"]),
    (&["season", "--from=2027-05-01", "--to=2027-05-20", "--lead", "3"], &["--lead", "3 has no unit", "\"3 days\""]),
    (
        &["season", "--from=2027-05-01", "--to=2027-05-20", "--lead", "1000 days"],
        &["--lead is 1000 days", "between 0 s and 400 days"],
    ),
    (
        &["season", "--from=2027-05-01", "--to=2027-05-20", "--learned", "springs.json"],
        &["springs.json, line 1", "holds a machine or a stock", "give the calibration.json", "--out DIR"],
    ),
    (
        &["season", "--from=2027-05-01", "--to=2027-05-20", "--learned", "record.json"],
        &["record.json", "`record`, not `calibration`", "slipsoak calibrate SCRIPT --inspections"],
    ),
    (
        &["season", "--from=2027-05-01", "--to=2027-05-20", "--learned", "ride.csv"],
        &["ride.csv", "calibration.json", "slipsoak calibrate SCRIPT", "this is a table"],
    ),
    (
        &["season", "--from=2027-05-01", "--to=2027-05-20", "--temperatures", "warm"],
        &["--temperatures", "`warm` does not begin with a number", "\"8, 12, 18 °C\""],
    ),
    (
        &["season", "--from=2027-05-01", "--to=2027-05-20", "--temperatures", "8, 12"],
        &["--temperatures", "`8, 12` has no unit", "\"8, 12, 18 °C\""],
    ),
    (
        &["season", "--from=2027-05-01", "--to=2027-05-20", "--temperatures", "200 °C"],
        &["--temperatures: 200 °C", "between -40 °C and 60 °C"],
    ),
    (
        &["season", "--from=2027-05-01", "--to=2027-05-20", "--oil-every", "0"],
        &["--oil-every: `0`", "between 1 and 365", "\"14 days\""],
    ),
    (
        &["season", "--from=2027-05-01", "--to=2027-05-20", "--oil-on", "Tuesdy"],
        &["--oil-on: `Tuesdy`", "did you mean `tuesday`"],
    ),
    (
        &["season", "--from=2027-05-01", "--to=2027-05-20", "--oil-when", "night"],
        &["--oil-when: `night`", "\"before opening\" nor \"after closing\""],
    ),
    (
        &["season", "--from=2027-05-01", "--to=2027-05-20", "--days", "Wedn-Sun"],
        &["--days: `Wedn`", "did you mean `wed`"],
    ),
    (
        &["season", "--from=2027-05-01", "--to=2027-05-20", "--hours", "30"],
        &["--hours is 30 h", "between 1 min and 1 day"],
    ),
    (
        &["season", "--from=2027-05-01", "--to=2027-05-20", "--against", "4 drops"],
        &["--against: `4 drops` is no rule", "\"4 drops on Mon\""],
    ),
    (
        &["season", "--from=2027-05-01", "--to=2027-05-20", "--used", "wheels 4 h"],
        &["--used", "no spare part `wheels`", "washer, lining, bushing, spring"],
    ),
    (
        &["season", "--from=2027-05-01", "--to=2027-05-20", "--stock", "five washers"],
        &["--stock: `five washers`", "\"5 washers, 2 linings\""],
    ),
    (
        &["season", "--from=2027-05-01", "--to=2027-05-20", "--prices", "washer -3"],
        &["--prices: `washer -3`", "0 or more", "\"washer 3, lining 45"],
    ),
    (
        &["season", "--from=2027-05-01", "--to=2027-05-20", "--prices", "washer 3 €"],
        &["--prices: `washer 3 €`", "without a currency"],
    ),
    (&["season", "--from=2027-05-20", "--to=2027-05-01"], &["--to: 2027-05-01 is before", "exchange the two"]),
    (&["season", "--from=2020-05-01", "--to=2027-05-01"], &["2557 days", "at most 1100", "one after another"]),
    (&["measure", "--season", "100"], &["--season: 100 has no unit", "\"100 h\""]),
    (&["measure", "--season", "10 years"], &["--season: `years` is no unit", "days"]),
    (&["measure", "--learned", "springs.json"], &["springs.json, line 1", "give the calibration.json"]),
    (&["measure", "--riding", "3 days"], &["--riding is 3 days", "between 5 min and 1 day"]),
    (&["compare", "saved"], &["<SECOND>", "name two results"]),
    (
        &["compare", "saved", "cart.json"],
        &["cart.json is not a result", "holds a machine or a stock", "slipsoak run SCRIPT --out DIR"],
    ),
    (&["calibrate", "ok.rhai"], &["nothing to learn from", "--inspections FILE.csv"]),
    (&["calibrate", "ok.rhai", "--inspections", "few.json"], &["few.json", "cannot be read"]),
    (&["calibrate", "cart.json", "--inspections", "ride.csv"], &["a script is wanted here", "this is a machine"]),
    (&["choose", "--idle", "1,700"], &["--idle", "`1,700`", "decimal point and nothing between thousands", "\"1700\""]),
    (&["choose", "--idle", "1.700 rpm"], &["--idle is 1.7 rpm", "between 800 rpm and 4000 rpm", "write \"1700 rpm\""]),
    (&["choose", "--idle", "abc"], &["--idle", "`abc`", "write for example \"1700 rpm\""]),
    (&["choose", "--idle", "0 rpm"], &["--idle is 0 rpm", "between 800 rpm and 4000 rpm"]),
    (&["choose", "--idle", "1700–1800 rpm"], &["--idle", "is a range", "\"1750 rpm\""]),
    (&["choose", "--idle", "≈1700 rpm"], &["--idle", "in front of its number", "\"1700 rpm\""]),
    (&["choose", "--idle", "1700", "rpm"], &["`1700` and `rpm` came as two words", "quotes", "--idle \"1700 rpm\""]),
    (&["choose", "--idle", "1700 km/h"], &["--idle", "`km/h` is no unit", "rpm, 1/min, rad/s"]),
    (&["choose", "--idle", "-1700 rpm"], &["--idle is -1700 rpm", "between 800 rpm"]),
    (&["choose", "--wander", "75 kg"], &["--wander", "`kg` is no unit", "rpm"]),
    (&["choose", "--motor", "6,5 hp"], &["`6,5 hp`", "decimal point", "\"6.5 hp\""]),
    (&["choose", "--motor", "6.5"], &["6.5 has no unit", "\"6.5 hp\"", "PS"]),
    (&["choose", "--motor", "6500 hp"], &["6500 hp", "between 0.134102 hp and 134.102 hp"]),
    (&["choose", "--mass", "160"], &["--mass", "160 has no unit", "\"160 kg\""]),
    (&["choose", "--mass", "160 stone"], &["--mass", "`stone` is no unit", "g, kg, lb"]),
    (&["choose", "--mass", "5 g"], &["--mass", "5 g", "between 1 kg and 5000 kg"]),
    (&["choose", "--wheel", "330"], &["--wheel", "330 has no unit", "\"330 mm\""]),
    (&["choose", "--wheel", "33 m"], &["--wheel", "33 m", "between 40 mm and 2000 mm"]),
    (&["choose", "--gears", "1:5.5"], &["--gears", "would gear up", "driven sprocket first, 5.5:1"]),
    (&["choose", "--gears", "five"], &["--gears", "`five` is no gear ratio", "5.5:1"]),
    (&["choose", "--grade", "15"], &["--grade is 15", "between -0.5 and 0.5", "\"15 %\""]),
    (&["choose", "--grade", "8 °"], &["--grade", "is an angle", "rise over its run", "\"14 %\""]),
    (&["choose", "--grade", "-80 %"], &["--grade is -80 %", "between -50 % and 50 %"]),
    (&["choose", "--lining", "wood"], &["--lining", "`wood`", "woven, moulded, sintered, bare metal"]),
    (&["choose", "--oil", "butter"], &["--oil", "`butter`", "SAE 30", "ISO VG 150; never use one with PTFE"]),
    (&["choose", "--oil", "ptfe"], &["`ptfe`", "choose one of: SAE 20,", "modelled only to show why"]),
    (&["choose", "--springs", ""], &["--springs", "no spring", "1900, 2200"]),
    (&["choose", "--springs", "1900,1900"], &["--springs", "1900 rpm stands there twice"]),
    (&["choose", "--springs", "99"], &["--springs", "99 rpm", "between 300 rpm and 15000 rpm"]),
    (&["choose", "--springs", "1900", "--stock", "springs.json"], &["--springs", "cannot be used with", "--stock"]),
    (&["choose", "--use", "Rental"], &["`Rental`", "did you mean `rental`?", "moderate, rental, hard"]),
    (&["choose", "--use", "racing"], &["`racing`", "moderate, rental, hard"]),
    (&["choose", "--crawl", "90 km/h"], &["--crawl: 90 km/h", "no more than 39 km/h;", "give a lower speed"]),
    (&["matters", "duty.rhai"], &["a script asks which assumed constants matter", "slipsoak words matters"]),
    (&["choose", "--crawl", "10"], &["--crawl", "10 has no unit", "\"10 km/h\""]),
    (&["choose", "--season", "1 year"], &["--season", "`year` is no unit", "days"]),
    (&["choose", "--threads", "0"], &["'0'", "--threads", "from 1 to 256"]),
    (&["choose", "--threads", "two"], &["'two'", "--threads", "whole number", "from 1 to 256"]),
    (&["gaps", "--proud", "0.065"], &["--proud", "0.065 has no unit", "\"0.065 inch\""]),
    (&["gaps", "--proud", "1,65mm"], &["--proud", "`1,65mm`", "decimal point", "\"1.65mm\""]),
    (&["gaps", "--proud", "0.065\" ±"], &["--proud", "65 thou ± 5 thou"]),
    (&["gaps", "--washer", "30 thou +/- 3"], &["--washer", "3 has no unit", "\"3 thou\""]),
    (
        &["oiling", "burns.json", "--use", "hard", "--gears", "2.5:1", "--set", "clutch.shoes=3"],
        &[
            "700 °C",
            "`slipsoak choose burns.json --set clutch.shoes=3 --use hard --gears 2.5:1`",
            "says which spring slips least",
        ],
    ),
    (&["gaps", "burns.json"], &["700 °C", "`slipsoak choose burns.json --use moderate`"]),
    (&["gaps", "--washer", "30±300thou"], &["the tolerance of --washer is 7.62 mm", "between 0 mm and 5 mm"]),
    (&["gaps", "--washer", "30 ± -3 thou"], &["the tolerance of --washer is -76.2 µm", "between 0 mm and 5 mm"]),
    (&["gaps", "--proud", "65 thou ± 1000 %"], &["the tolerance of --proud is 16.51 mm", "between 0 mm and 5 mm"]),
    (&["gaps", "--cover", "10 ± 300 thou"], &["the tolerance of --cover is 7.62 mm", "between 0 mm and 5 mm"]),
    (&["gaps", "--washer", "30 kg"], &["--washer", "`kg` is no unit", "thou"]),
    (&["gaps", "--cover", "5 m"], &["--cover is 5000 mm", "between -20 mm and 20 mm"]),
    (&["gaps", "--assemblies", "5"], &["'5'", "--assemblies", "from 100 to 1000000"]),
    (&["oiling", "--drops", "1e6"], &["--drops is 1000000", "between 0.5 and 100"]),
    (&["oiling", "--drops", "few"], &["'few'", "--drops", "such as 4 or 4.5"]),
    (&["oiling", "--riding", "40"], &["--riding", "40 has no unit", "\"40 min\""]),
    (&["oiling", "--riding", "40 h"], &["--riding is 40 h", "between 5 min and 1 day"]),
    (&["oiling", "--found", "85"], &["--found is 85", "\"85 %\""]),
    (&["oiling", "--found", "8 %"], &["--found is 8 %", "between 30 % and 100 %"]),
    (&["oiling", "--rest", "12"], &["--rest", "12 has no unit", "\"12 h\""]),
    (&["choose", "--motor", "6.5"], &["--motor or --power", "6.5 has no unit", "\"6.5 hp\""]),
    (&["choose", "my", "cart"], &["'cart'", "several words stands in quotes"]),
    (&["choose", "quad"], &["no such file", "orchard-cart"]),
    (&["spring"], &["'spring'", "`slipsoak choose`"]),
    (&["version"], &["'version'", "`slipsoak --version`"]),
    (&["compare", "saved"], &["<SECOND>", "name two results"]),
    (&["retrace", "ride.fit"], &["no such file", "did you mean ride.csv?"]),
    (&["retrace", "tours.fit"], &["no such file", ".csv or .gpx"]),
    (
        &["retrace", "errands.gpx"],
        &["errands.gpx", "no such file", "`slipsoak begin DIR` writes the shipped errands.gpx"],
    ),
    (&["terms", "gearbox"], &["no term has `gearbox`", "`slipsoak terms` lists all"]),
    (&["sheet"], &["<PART>", "orchard-cart", "`example`"]),
    (&["run"], &["<SCRIPT>", "such as orchard", "slipsoak begin DIR"]),
    (&["oiling", "--fahrenheit"], &["--fahrenheit", "give °C and °F"]),
    (&["oiling", "--weekly", "200 h"], &["--weekly is 200 h", "between 10 min and 7 days"]),
    (&["sheet", "example", "--set", "mass=160"], &["no setting `mass`", "did you mean `vehicle.mass`"]),
    (&["sheet", "example", "--set", "vehicle.mass"], &["'vehicle.mass'", "NAME=VALUE", "equals sign"]),
    (&["sheet", "example", "--set", "vehicle.mass=160"], &["--set vehicle.mass", "160 has no unit", "\"160 kg\""]),
    (&["sheet", "example", "--set", "vehicle.mass=160 kg, motor.idle=1700 rpm"], &["one setting each", "repeat --set"]),
    (
        &["sheet", "example", "--set", "vehicle.wheel_diameter=300 mm"],
        &["no setting `vehicle.wheel_diameter`", "vehicle.wheel_radius", "half"],
    ),
    (&["sheet", "example", "--set", "oil=SAE 30"], &["`oil`", "parts file", "machine.oiled"]),
    (&["sheet", "example", "--set", "clutch.shoes=2.5"], &["clutch.shoes is 2.5", "it counts", "whole number"]),
    (
        &["sheet", "example", "--set", "vehicle.ratio=5,5"],
        &["--set vehicle.ratio", "`5,5`", "decimal point", "\"5.5\""],
    ),
    (
        &["sheet", "example", "--set", "clutch.engagement=99999 rpm"],
        &["clutch.engagement is 99999 rpm", "between 300 rpm and 15000 rpm", "engagement speed"],
    ),
    (
        &["sheet", "example", "--set", "surroundings.ambient=20"],
        &["--set surroundings.ambient", "20 has no unit", "\"20 °C\""],
    ),
    (&["sheet", "example", "--set", "surroundings.ambient=-300 °C"], &["surroundings.ambient is -300 °C", "between"]),
    (&["sheet"], &["required", "<PART>", "slipsoak sheet"]),
    (&["settings", "wheels"], &["no group of settings `wheels`", "vehicle"]),
    (&["words", "ride.jump"], &["no word `jump`", "`slipsoak words` lists all"]),
    (&["manual", "chose"], &["no command `chose`", "did you mean `choose`?"]),
    (&["completions", "tcsh"], &["'tcsh'", "bash", "zsh"]),
    (&["schema", "machine"], &["'machine'", "part", "stock"]),
    (&["chose"], &["'chose'", "'choose'"]),
    (&["sheet", "ok.rhai"], &["ok.rhai", "a parts file is wanted here", "this is a script", "`slipsoak run` takes it"]),
    (&["sheet", "ride.csv"], &["ride.csv", "this is a table", "`slipsoak retrace` takes a recorded ride"]),
    (&["sheet", "dir"], &["dir cannot be read", "a folder", "name a parts file in it"]),
    (&["sheet", "car.json"], &["car.json", "no such file", "did you mean `cart.json`?"]),
    (&["sheet", "nowhere.json"], &["nowhere.json", "no such file", "`example`, the built-in machine"]),
    (&["sheet", "springs.json"], &["springs.json", "a stock of springs", "`slipsoak choose --stock` takes it"]),
    (&["choose", "record.json"], &["record.json", "a saved result", "`slipsoak report`"]),
    (&["choose", "--stock", "record.json"], &["record.json", "a stock of springs is wanted here", "a saved result"]),
    (&["choose", "--stock", "cart.json"], &["cart.json, line 1", "`vehicle`", "`slipsoak schema stock`"]),
    (&["choose", "--stock", "few.json"], &["few.json", "a stock of 0 springs", "between 1 and 200"]),
    (&["choose", "--stock", "bare-spring.json"], &["bare-spring.json, line 1", "1900 has no unit", "\"1900 rpm\""]),
    (&["choose", "--stock", "nowhere.json"], &["nowhere.json", "no such file", "a stock of springs is a file"]),
    (&["run", "cart.json"], &["cart.json", "a script is wanted here", "a machine", "`slipsoak sheet`"]),
    (&["run", "record.json"], &["record.json", "a script is wanted here", "a saved result", "`slipsoak report`"]),
    (&["run", "ride.csv"], &["ride.csv", "this is a table", "`slipsoak retrace`"]),
    (&["run", "a.gpx"], &["a.gpx", "a recorded ride", "`slipsoak retrace` takes it"]),
    (&["run", "dir"], &["dir", "a folder", "name a script in it"]),
    (&["run", "saved"], &["saved", "a folder that holds a saved result", "`slipsoak report`"]),
    (&["run", "nowhere"], &["nowhere", "no such file", "ok.rhai", "shipped scripts run by their names"]),
    (&["run", "-"], &["standard input is not read", "save a script as a file"]),
    (&["run", "empty.rhai"], &["empty.rhai compares nothing", "end it with `compare("]),
    (&["run", "picture.rhai"], &["picture.rhai", "not text", "(line 3)", "save it as UTF-8"]),
    (&["run", "ok.rhai", "--out", "nowhere/x"], &["nowhere is not a folder", "another --out"]),
    (&["run", "ok.rhai", "--out", "ride.csv"], &["ride.csv is not a folder", "another --out"]),
    (&["run", "ok.rhai", "--report"], &["required", "--out <DIR>"]),
    (&["run", "ok.rhai", "--share", "3"], &["'3'", "--share <K/N>", "as in 3/16"]),
    (&["run", "ok.rhai", "--share", "1/2", "--out", "x"], &["ok.rhai asks for none", "without --share"]),
    (
        &["run", "habits-fleet", "--set", "carts=20"],
        &["no parameter `carts`", "clutches", "besides", "needs --out DIR"],
    ),
    (&["run", "ok.rhai", "--set", "a=4,5"], &["`4,5`", "decimal point"]),
    (&["run", "ok.rhai", "--set", "a=4 min"], &["has the unit `min`", "a=4"]),
    (&["run", "ok.rhai", "--units", "yards", "--out", "y"], &["'yards'", "si, metric, imperial"]),
    (&["run", "ok.rhai", "--svg-only"], &["required", "--out <DIR>"]),
    (&["draw", "saved", "--out", "d", "--figure", "nothing"], &["no figure `nothing`", "its figures:", "temperatures"]),
    (&["draw", "saved", "--out", "d", "--at", "12"], &["--at", "12 has no unit", "\"12 min\""]),
    (&["draw", "saved", "--out", "d", "--of", "nobody"], &["no run is called `nobody`", "example"]),
    (&["draw", "saved", "--out", "d", "--width", "10"], &["'10'", "--width", "from 400 to 4000"]),
    (
        &["draw", "cart.json", "--out", "d"],
        &["cart.json is not a result", "`slipsoak run SCRIPT --out DIR` writes one"],
    ),
    (&["draw", "ok.rhai", "--out", "d"], &["ok.rhai", "this is a script", "`slipsoak run` takes it"]),
    (&["report", "saved", "--out", "x.pdf"], &["x.pdf", "a page is HTML", ".html"]),
    (
        &["report", "ride.csv", "--out", "x.html"],
        &["ride.csv", "a result that was saved as JSON is wanted here", "a table"],
    ),
    (&["compare", "saved", "nowhere"], &["nowhere", "no such file"]),
    (&["compare", "saved", "cart.json"], &["cart.json is not a result", "holds a machine"]),
    (&["begin", "saved"], &["saved is there already", "nothing was written", "a new folder"]),
    (&["gather", "ok.rhai", "a.journal", "--out", "g"], &["a.journal cannot be read", "check the path"]),
    (&["sheet", "comma.json"], &["comma.json, line 1, column 32", "trailing comma", "take away the comma"]),
    (&["sheet", "tonne.json"], &["tonne.json: vehicle.mass", "`0,16 t`", "decimal point"]),
    (&["sheet", "bare.json"], &["bare.json: vehicle.mass", "160 has no unit", "\"160 kg\""]),
    (&["sheet", "twice.json"], &["twice.json, line 1", "the key `mass` stands twice", "leave one out"]),
    (&["sheet", "weight.json"], &["weight.json", "no setting `vehicle.weight`", "`vehicle.mass`"]),
    (
        &["sheet", "smart.json"],
        &["smart.json has 2 mistakes", "line 1, column 2", "straight double quotes", "vehicle must be an object"],
    ),
    (&["sheet", "list.json"], &["list.json", "must be an object in braces"]),
    (&["sheet", "half.json"], &["clutch.shoes is 2.5", "whole number"]),
    (&["sheet", "lining.json"], &["`sintred`", "did you mean `sintered`?"]),
    (&["sheet", "torque.json"], &["torque.json: motor.torque[0]", "10 has no unit", "N·m"]),
    (&["sheet", "vehicel.json"], &["vehicel.json", "`vehicel`", "did you mean `vehicle`?"]),
    (&["sheet", "empty.json"], &["empty.json", "the file is empty", "`{}`"]),
    (&["sheet", "picture.json"], &["picture.json", "not text", "save it as UTF-8"]),
    (&["retrace", "empty.csv"], &["empty.csv holds no head", "its first line names the columns"]),
    (&["retrace", "a.gpx"], &["a.gpx holds no track point", "<trkpt>"]),
    (&["retrace", "cart.json"], &["cart.json", "a table or recording is wanted here", "a machine"]),
    (&["retrace", "ride.csv", "--machine", "nowhere"], &["nowhere", "no such file", "`example`"]),
    (&["retrace", "ride.csv", "--set", "vehicle.ratio=0"], &["vehicle.ratio is 0", "between 0.5 and 100"]),
    (&["calibrate", "ok.rhai"], &["nothing to learn from", "--inspections FILE.csv", "--log FILE.csv"]),
    (
        &["calibrate", "ok.rhai", "--log", "ride.csv"],
        &["ride.csv, line 1", "no column of temperatures", "`bushing [°C]`", "columns there: time, speed"],
    ),
    (
        &["calibrate", "ok.rhai", "--log", "record.json"],
        &["record.json", "a table or recording is wanted here", "a saved result"],
    ),
    (
        &["calibrate", "ok.rhai", "--inspections", "ride.csv"],
        &["ride.csv, line 1", "`clutch` is missing", "columns there: time"],
    ),
    (
        &["calibrate", "ok.rhai", "--log", "ride.csv", "--running-in-time", "5"],
        &["--running-in-time", "5 has no unit", "\"5 h\""],
    ),
    (&["calibrate", "ok.rhai", "--log", "ride.csv", "--searches", "0"], &["'0'", "--searches", "from 1 to 100"]),
];

/// A script, and the parts of its message; `RIDE` stands for what a duty does.
const SCRIPTS: &[(&str, &[&str])] = &[
    ("RIDE: for i in range(60) { ride.idle(1.s); }", &["script.rhai:1:57", "`range`", "for i in 0..60"]),
    ("RIDE: for (i = 0; i < 3; i++) { ride.idle(1.s); }", &["for i in 0..60"]),
    ("RIDE: ride.idle(15 s);", &["a unit stands behind a point", "15.s"]),
    ("RIDE: ride.set_fill(70%);", &["70.percent"]),
    ("RIDE: ride.grade(15); ride.idle(1.s);", &["surroundings.grade is 15", "between -0.5 and 0.5", "15.percent"]),
    ("RIDE: ride.hold(25.km_h; 20.s);", &["a comma stands between arguments"]),
    ("RIDE: ride.launch(25 kmh);", &["25.km_h"]),
    ("RIDE: ride.idle(30.s)\nride.idle(30.s);", &["script.rhai:1:", "a semicolon is missing here"]),
    ("RIDE: ride.hold(20.km_h);", &["1 argument; it takes 2", "`ride.hold(speed, time)`"]),
    ("RIDE: ride.idle(5 Minuten);", &["`Minuten` is a unit", "`5.min`"]),
    ("RIDE: ride.idle(1,5.min);", &["two times", "`idle(1.5.min)`"]),
    ("machine(\"example\").lined(\"organic\");", &["either of two", "\"woven\" or \"moulded\""]),
    ("let go = 5;", &["`go`", "another name", "`my_go`"]),
    ("def day(ride): ride.idle(1.s)", &["fn day(ride) { … }"]),
    ("print \"x\";", &["`print(", "brackets"]),
    ("let cart = machine(\"example\");", &["compares nothing", "compare("]),
    ("machine(\"example\").spring(1700);", &["1700 without a unit", "`1700.rpm`"]),
    ("part(\"weekend-cart\");", &["no word `part`", "did you mean `machine`?"]),
    ("machine(\"nowhere\");", &["no machine `nowhere.json` beside the script", "looked in"]),
];

/// Parts of a message that it lacks.
fn lacking<'a>(message: &str, parts: &[&'a str]) -> Vec<&'a str> {
    parts.iter().copied().filter(|part| !message.contains(part)).collect()
}

fn folder() -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    for (name, text) in FILES {
        fs::write(folder.path().join(name), text).expect("written");
    }
    fs::create_dir(folder.path().join("dir")).expect("a folder");
    let run = ["run", "ok.rhai", "--out", "saved", "--no-pictures", "--quiet"];
    slipsoak(folder.path(), &run).assert().success();
    fs::copy(folder.path().join("saved/record.json"), folder.path().join("record.json")).expect("copied");
    folder
}

/// The message in one line, of whatever exit code.
fn message(at: &Path, arguments: &[&str]) -> String {
    let output = slipsoak(at, arguments).output().expect("it runs");
    let code = output.status.code().expect("a code");
    assert!(code == 1 || code == 2, "{arguments:?} was accepted: {}", String::from_utf8_lossy(&output.stdout));
    refusal(at, arguments, code)
}

#[test]
fn every_wrong_command_line_and_file_is_answered_by_what_where_value_and_remedy() {
    let folder = folder();
    let mut failures = vec![];
    for (arguments, parts) in COMMANDS {
        let message = message(folder.path(), arguments);
        let lacking = lacking(&message, parts);
        if !lacking.is_empty() || parts.len() < 2 {
            failures.push(format!("{arguments:?} lacks {lacking:?}: {message}"));
        }
    }
    assert!(failures.is_empty(), "{}", failures.join("\n"));
    assert!(COMMANDS.len() + SCRIPTS.len() >= 120, "{} inputs", COMMANDS.len() + SCRIPTS.len());
}

#[test]
fn every_wrong_script_is_answered_by_its_line_and_how_to_write_it() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut failures = vec![];
    for (text, parts) in SCRIPTS {
        let text = match text.strip_prefix("RIDE: ") {
            Some(ride) => format!("compare(machine(\"example\"), duty(\"d\", |ride| {{ {ride} }}));"),
            None => (*text).to_owned(),
        };
        fs::write(folder.path().join("script.rhai"), &text).expect("written");
        let message = message(folder.path(), &["check", "script.rhai"]);
        let lacking = lacking(&message, parts);
        if !lacking.is_empty() || !message.contains("script.rhai") {
            failures.push(format!("{text} lacks {lacking:?}: {message}"));
        }
    }
    assert!(failures.is_empty(), "{}", failures.join("\n"));
}
