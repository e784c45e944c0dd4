//! The JSON schemas of results and of files that people write.

use crate::read::part_schema;
use slipsoak_engine::document::Kind;

/// The names of the schemas that do not belong to a result.
const STOCK: &str = "stock";
const PART: &str = "part";

/// A shipped schema: its name, and its text.
macro_rules! shipped {
    ($($name:literal)+) => { [$(($name, include_str!(concat!("../../", $name, ".schema.json")))),+] };
}

/// Every shipped schema but that of a parts file. Those of results follow from their types, and a check holds them to these:
/// a program that made them itself would take a tenth longer to build.
const SHIPPED: &[(&str, &str)] = &shipped! {
    "record" "fleet" "sweep" "influence" "choice" "gaps" "oiling" "season" "measure" "calibration" "told" "retraced" "sheet"
    "stock"
};

/// Names of all schemas, each with a description.
pub(crate) fn names() -> impl Iterator<Item = (&'static str, &'static str)> {
    let kinds = Kind::ALL.iter().map(|kind| (kind.name(), kind.meaning()));
    kinds.chain([(PART, "a machine, as a parts file"), (STOCK, "a stock of springs, as `choose` reads it")])
}

/// The schema of that name, formatted for reading. Results are described as this program writes them, where a life without an
/// end has its key too; a stock as it is read.
pub(crate) fn schema(of: &str) -> String {
    if of == PART {
        return format!("{:#}\n", part_schema::schema());
    }
    SHIPPED.iter().find(|(name, _)| *name == of).map_or_else(String::new, |(_, text)| (*text).to_owned())
}
