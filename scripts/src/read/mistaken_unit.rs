//! Sizes of parts that were read in another unit than that under which they stand, or that are other sizes than their column holds.

use crate::read::columns::Columns;
use crate::read::delimited::Line;
use crate::read::refusal::Refusal;
use crate::read::units::{UNITS, short};
use slipsoak_engine::calibrate::{Quantity, Read, Under, Worn};
use slipsoak_engine::parts::{Dimension, Machine};

/// Units in which gauges read.
const GAUGES: [&str; 4] = ["mm", "thou", "inch", "µm"];
/// Sizes over that of the new part beyond which another unit is looked for, and those that another unit has to give: of what
/// becomes thinner, and of what grows. Another unit changes a size at least 25 times.
const THINNER: [(f64, f64); 2] = [(0.06, 6.0), (0.3, 1.6)];
const WIDER: [(f64, f64); 2] = [(0.08, 15.0), (0.5, 12.0)];
/// A bushing's size over its bore within which it may be the diameter of the bore: where no clearance is so wide, and where one of a
/// bushing that is worn out is.
const BORE: [(f64, f64); 2] = [(0.5, 1.5), (0.8, 1.2)];
/// Times by which a clearance may grow between two inspections.
const GROWTH: f64 = 2.0;
/// Share by which a part that became thinner may seem thicker than at the inspection before.
const SCATTER: f64 = 0.1;

/// Refuses a size that is far from that of the machine's new part, but near it in another unit, unless its field gives the unit; and the
/// diameter of a bore in place of its clearance.
pub(crate) fn refuse(
    columns: &Columns,
    (row, place): (&Line, usize),
    (quantity, value): (Quantity, f64),
    machine: &Machine,
    before: Option<&Read>,
) -> Result<(), Refusal> {
    let about = quantity.row();
    if about.dimension != Dimension::Length {
        return Ok(());
    }
    let new = (about.reads)(machine, &Worn::default(), &Under::default());
    let refused = |why: String| Err(Refusal::field(&columns.file, row.0, quantity.name(), why));
    let of_bore = |(least, most): (f64, f64), value: f64| {
        let bore = machine.bushing.bore;
        quantity == Quantity::Bushing && (least * bore..=most * bore).contains(&value)
    };
    let holds = || {
        format!(
            "looks like the diameter of the bore, {} mm new; this column holds the clearance, bore less shaft, {} mm new: subtract \
             the diameter of the shaft",
            short(1e3 * machine.bushing.bore),
            rounded(1e3 * new)
        )
    };
    let Some(unit) = columns.unit_by_head(row, place) else {
        return if of_bore(BORE[0], value) { refused(format!("{} {}", row.1[place], holds())) } else { Ok(()) };
    };
    let falls = about.running_in > 0.0;
    let [credible, likely] = if falls { THINNER } else { WIDER };
    let within = |(least, most): (f64, f64), value: f64| (least * new..=most * new).contains(&value);
    let number = unit.from_si(value);
    let follows = |value: f64| {
        before.is_none_or(|last| {
            if falls { value < (1.0 + SCATTER) * last.value } else { value > (1.0 - SCATTER) * last.value }
        })
    };
    let others = UNITS.iter().filter(|other| other.dimension == Dimension::Length && other.scale != unit.scale);
    let others = || others.clone().filter(|other| GAUGES.contains(&other.texts[0]));
    let meant = others().find(|other| within(likely, other.si(number)) && follows(other.si(number)));
    let meant = meant.map(|meant| meant.texts[0]);
    let given = unit.texts[0];
    let worn_out = value > new + machine.limits.bushing && before.is_none_or(|last| value > GROWTH * last.value);
    // The unit in which it may be a clearance all the same.
    let diameter = if within(credible, value) {
        (worn_out && others().any(|other| of_bore(BORE[1], other.si(number)))).then_some(Some(given))
    } else {
        of_bore(BORE[0], value).then_some(meant)
    };
    let number = short(number);
    if let Some(unit) = diameter {
        let or = unit.map_or_else(String::new, |unit| format!("; if it is a clearance, write `{number} {unit}`"));
        return refused(format!("{number} under [{given}] {}{or}", holds()));
    }
    let Some(meant) = meant.filter(|_| !within(credible, value)) else { return Ok(()) };
    let of = if falls { "" } else { "clearance of the " };
    refused(format!(
        "{number} under [{given}] would be {} mm for a {of}{quantity} of {} mm new: is it in {meant}? Write `{quantity} [{meant}]` in the head, or the unit after each value, as in `{number} {meant}`",
        rounded(1e3 * value),
        rounded(1e3 * new),
    ))
}

/// A number of two significant figures.
fn rounded(value: f64) -> String {
    let scale = 10_f64.powi(1 - value.abs().max(1e-9).log10().floor() as i32);
    short((value * scale).round() / scale)
}

#[cfg(test)]
mod tests {
    use crate::read::inspections::inspections;
    use slipsoak_engine::parts::Machine;

    fn read(head: &str, fields: &[&str]) -> Result<Vec<f64>, String> {
        let rows: String = fields
            .iter()
            .enumerate()
            .fold(String::new(), |rows, (k, field)| rows + format!("A,{},{field}\n", 10 * k).as_str());
        let text = format!("clutch,hours [h],{head}\n{rows}");
        let (read, _) = inspections("w.csv", &text, &Machine::default()).map_err(|refused| refused.to_string())?;
        Ok(read[&None].iter().map(|read| 1e3 * read.value).collect())
    }

    #[test]
    fn a_size_that_only_another_unit_brings_near_to_the_new_part_is_refused_with_that_unit() {
        for (head, fields, said) in [
            (
                "lining [thou]",
                &["3.2"][..],
                "line 2, column `lining`: 3.2 under [thou] would be 0.081 mm for a lining of 3 mm new: is it in mm?",
            ),
            ("lining [mm]", &["118"], "118 under [mm] would be 120 mm for a lining of 3 mm new: is it in thou?"),
            ("lining [mm]", &["0.118"], "is it in inch?"),
            ("washer [thou]", &["30", "0.7"], "line 3, column `washer`: 0.7 under [thou] would be 0.018 mm"),
            ("washer [mm]", &["0.76", "29"], "line 3, column `washer`: 29 under [mm] would be 29 mm"),
            ("bushing [mm]", &["2.1"], "for a clearance of the bushing of"),
            ("bushing [thou]", &["0.06"], "`bushing [mm]`"),
            (
                "bushing [mm]",
                &["0.06", "18.9"],
                "line 3, column `bushing`: 18.9 under [mm] looks like the diameter of the bore, 19.05 mm new; this column holds the clearance, bore less shaft, 0.05 mm new: subtract the diameter of the shaft",
            ),
            ("bushing [mm]", &["16.05"], "shaft; if it is a clearance, write `16.05 thou`"),
            ("bushing [mm]", &["0.76 in"], "0.76 in looks like the diameter of the bore"),
            ("bushing [thou]", &["19.2"], "19.2 under [thou] looks like the diameter of the bore"),
            ("bushing [thou]", &["19.2"], "if it is a clearance, write `19.2 thou`"),
            ("bushing [thou]", &["755"], "755 under [thou] looks like the diameter of the bore"),
        ] {
            let refused = read(head, fields).expect_err(head);
            assert!(refused.contains(said), "{head}: {refused}");
        }
    }

    #[test]
    fn sizes_that_can_be_and_those_with_a_unit_of_their_own_are_read() {
        for (head, fields) in [
            ("lining [mm]", &["3.2", "1.4", "0.5", "0.1"][..]),
            ("lining [mm]", &["9", "8"]),
            ("lining [thou]", &["0.1 mm"]),
            ("washer [thou]", &["30", "12", "4", "0"]),
            ("bushing [mm]", &["0.04", "0.4"]),
            ("bushing [thou]", &["2", "7", "12", "16", "18"]),
            ("bushing [thou]", &["19.2 thou"]),
        ] {
            assert_eq!(read(head, fields).map(|read| read.len()), Ok(fields.len()), "{head}");
        }
    }
}
