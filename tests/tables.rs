//! Tables as spreadsheets, telephones and loggers write them: each form is read as the plain one is.

use slipsoak::read::inspections::{inspections, thermometers};
use slipsoak::read::{ridelog, trace};
use slipsoak_engine::parts::Machine;

const RIDE: &str = "time [s],speed [km/h]\n0,0\n10,0\n20,18\n30,18\n40,0\n";

#[test]
fn a_ride_is_read_from_the_columns_of_telephones_loggers_and_spreadsheets() {
    let (plain, _) = ridelog::read("ride.csv", RIDE).expect("a ride");
    for text in [
        "sep=;\nTime (s);Speed (km/h);;\n0;0;;\n10;0;;\n20;18,0;;\n30;18;;\n40;0;;\n;;;\n",
        "TIME_S\tspeed_kmh\n0\t0\n10\t0\n20\t18\n30\t18\n40\t0\n",
        "time,Speed [KPH]\n09:30:00,0\n09:30:10,0\n09:30:20,18\n09:30:30,18\n09:30:40,0\n",
        "time [ms],speed [mph]\n0,0\n10000,0\n20000,11.184681\n30000,11.184681\n40000,0\n",
        "Time,speed\n00:00:00,0 km/h\n00:00:10,0 km/h\n00:00:20,18 km/h\n00:00:30,5 m/s\n00:00:40,0 km/h\n",
        "timestamp,latitude,longitude,speed (m/s),accuracy\n2024-05-01T09:30:00Z,1,2,0,3\n2024-05-01T09:30:10Z,1,2,0,3\n\
         2024-05-01T09:30:20Z,1,2,5,3\n2024-05-01T09:30:30Z,1,2,5,3\n2024-05-01T09:30:40Z,1,2,0,3\n",
        "timestamp;speed [m/s]\n1714555800000;0\n1714555810000;0\n1714555820000;5,0\n1714555830000;5,0\n1714555840000;0\n",
    ] {
        let (read, _) = ridelog::read("ride.csv", text).unwrap_or_else(|refused| panic!("{refused}: {text}"));
        assert_eq!(read.points.len(), plain.points.len(), "{text}");
        for (read, plain) in read.points.iter().zip(&plain.points) {
            assert!((read.0 - plain.0).abs() < 1e-6 && (read.1 - plain.1).abs() < 1e-6, "{text}: {read:?} {plain:?}");
        }
    }
}

#[test]
fn a_trace_tells_which_columns_it_does_not_use_and_where_its_times_begin() {
    let text = "Time;Speed [km/h];Note\n2024-05-01 09:30:00;0;x\n2024-05-01 09:30:02,5;18;\n";
    let (trace, notes) = trace::read("lap.csv", text).expect("a trace");
    assert_eq!(trace.points, [(0.0, 0.0), (2.5, 5.0)]);
    let [spare, start] = &notes[..] else { panic!("{notes:?}") };
    assert!(spare.contains("lap.csv: columns not used: Note"), "{spare}");
    assert!(start.contains("times are counted from the first line"), "{start}");
}

#[test]
fn inspections_are_read_from_a_spreadsheet_with_decimal_commas() {
    let (plain, none) =
        inspections("w.csv", "clutch,hours [h],washer [mm]\nA,0,0.762\nA,120.5,0.7\n", &Machine::default())
            .expect("readings");
    assert!(none.is_empty());
    for text in [
        "Cart;Hours;Washer (mm)\nA;0;0,762\nA;120,5;0,7\n",
        "Cart;Hour meter [h];Washer thickness, mm;mechanic\nA;0;0,762;K\nA;120,5;0,7;K\n",
        "Cart,Hours,Washer\nA,0,0.03\"\nA,120.5,0.7 mm\n",
        "clutch\thours\twasher [µm]\nA\t0\t762\nA\t120,5\t700\n",
    ] {
        let (read, notes) =
            inspections("w.csv", text, &Machine::default()).unwrap_or_else(|refused| panic!("{refused}: {text}"));
        let values = |all: &slipsoak::read::inspections::Inspections| {
            all[&None].iter().map(|read| (read.clutch.clone(), read.when, read.value)).collect::<Vec<_>>()
        };
        for (read, plain) in values(&read).iter().zip(&values(&plain)) {
            assert_eq!((&read.0, read.1), (&plain.0, plain.1), "{text}");
            assert!((read.2 - plain.2).abs() < 1e-12, "{text}: {read:?}");
        }
        assert_eq!(!notes.is_empty(), text.contains("mechanic"), "{notes:?}");
    }
}

#[test]
fn weights_with_three_decimals_between_semicolons_are_read_with_decimal_commas() {
    let text = "clutch;hours [h];weight [g] ± 0,01\nA;0;615,930\nA;60;615,827\n";
    let (read, _) = inspections("w.csv", text, &Machine::default()).expect("readings");
    let weights: Vec<f64> = read[&None].iter().map(|read| 1e3 * read.value).collect();
    assert!((weights[0] - 615.93).abs() < 1e-9 && (weights[1] - 615.827).abs() < 1e-9, "{weights:?}");
}

#[test]
fn a_thermocouple_log_is_read_with_temperatures_in_letters_and_clock_times() {
    let (plain, _) = thermometers("t.csv", "time [s],bushing [°C]\n0,20\n5,25\n").expect("a log");
    let text = "Time (local);Bushing (F);Operator\n09:30:00;68;K\n09:30:05;77;K\n";
    let (read, notes) = thermometers("t.csv", text).expect("a log");
    assert_eq!(notes.len(), 2, "{notes:?}");
    assert_eq!((read.len(), read[0].readings), (1, 2));
    for (read, plain) in read[0].stretches.iter().zip(&plain[0].stretches) {
        assert!(
            (read.time() - plain.time()).abs() < 1e-9 && (read.value - plain.value).abs() < 1e-9,
            "{read:?} {plain:?}"
        );
    }
}

#[test]
fn a_table_that_may_mean_two_things_is_refused_with_what_was_seen_and_how_to_write_it() {
    let ride = |text: &str| ridelog::read("ride.csv", text).expect_err(text).to_string();
    for (text, said) in [
        (
            "time [s]\tspeed [m/s]\n0\t0\n1,250\t5\n",
            "line 3, column `time`: `1,250` may be 1.250 or 1250; write the one",
        ),
        ("time [s];speed [m/s]\n0;2,5\n1.250;5\n", "`1.250` may be 1.250 or 1250, since `2,5` has a decimal comma"),
        (
            "time,speed [m/s]\n09:30,0\n",
            "line 2, column `time`: `09:30` may be hours and minutes, or minutes and seconds",
        ),
        ("time,speed [m/s]\n05/01/2024 09:30:00,0\n", "which is the day, which the month? write 2024-05-01 09:30:00"),
        ("timestamp,latitude,longitude\n1714555800,1,2\n", "positions are read from GPX alone"),
        ("timestamp,latitude,longitude,speed\n1714555800,1,2,0\n", "line 1, column `speed`: the head gives no unit"),
        (
            "time,speed [m/s]\n0,0\n",
            "line 1, column `time`: the head gives no unit; write `time [UNIT]` with one of: s, min",
        ),
        ("time [s],elapsed [s],speed [m/s]\n0,0,0\n", "`time` is there twice, as `time [s]` and `elapsed [s]`"),
        ("time [s],sped [m/s]\n0,0\n", "there is no column `sped` (did you mean `speed`?)"),
    ] {
        let refused = ride(text);
        assert!(refused.starts_with("ride.csv, line ") && refused.contains(said), "{text}: {refused}");
    }
    let refused =
        inspections("w.csv", "clutch,hours,mechanic\nA,5,K\n", &Machine::default()).expect_err("refused").to_string();
    assert!(refused.contains("no column of a measurement is there") && refused.contains("mechanic"), "{refused}");
}

#[test]
fn a_log_with_the_heads_of_a_logger_is_read_as_the_plain_one() {
    let lines = "\n0,20,21\n5,25,22\n";
    let (plain, _) = thermometers("t.csv", &format!("time [s],band [°C],bushing [°C]{lines}")).expect("a log");
    for heads in ["Time (s),TC1 drum (C),TC2: bushing (C)", "time_s,Drum [°C],CH 3 Bushing [°C]"] {
        let (read, notes) =
            thermometers("t.csv", &format!("{heads}{lines}")).unwrap_or_else(|e| panic!("{heads}: {e}"));
        assert_eq!((&read, notes.len()), (&plain, 0), "{heads}");
    }
    // A channel without a name is no node.
    let refused = thermometers("t.csv", &format!("time [s],TC1 [°C],TC2 [°C]{lines}")).expect_err("no node");
    assert!(refused.to_string().contains("no column of temperatures"), "{refused}");
}
