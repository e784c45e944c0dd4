//! Files named on the command line: their text, or a message about the mistake.

use crate::read::encoding;
use crate::read::refusal::Refusal;
use crate::read::shipped;
use crate::read::units::nearest;
use crate::read::variant::built_in;
use serde::Deserialize;
use serde::de::IgnoredAny;
use serde_json::Value;
use slipsoak_engine::document::Kind as Saved;
use std::collections::BTreeSet;
use std::fs;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

/// Expected kind of a file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// a script
    Script,
    /// a machine
    Part,
    /// a stock of springs
    Stock,
    /// a saved result
    Result,
    /// what a calibration learned
    Learned,
    /// a table or a recorded ride
    Table,
}

impl Kind {
    /// Its name, and the ending of such files.
    fn words(self) -> (&'static str, &'static str) {
        match self {
            Self::Script => ("a script", "rhai"),
            Self::Part => ("a parts file", "json"),
            Self::Stock => ("a stock of springs", "json"),
            Self::Result => ("a result that was saved as JSON", "json"),
            Self::Learned => {
                ("the calibration.json that `slipsoak calibrate SCRIPT --inspections FILE.csv --out DIR` makes", "json")
            }
            Self::Table => ("a table or recording", "csv"),
        }
    }
}

/// The text of a file, without a byte order mark.
pub fn text(path: &Path, kind: Kind) -> Result<String, Refusal> {
    let refuse = |why: String| Refusal::of_command(format!("{} cannot be read: {why}", path.display()));
    if path == Path::new("-") {
        let (wanted, ending) = kind.words();
        return Err(refuse(format!(
            "the standard input is not read; save {wanted} as a file, such as mine.{ending}, and name that"
        )));
    }
    if let Some(why) = mistaken(path, kind) {
        return Err(refuse(why));
    }
    let bytes = fs::read(path).map_err(|e| refuse(missing(path, kind, &e)))?;
    let text = encoding::decoded(bytes).map_err(refuse)?;
    if matches!(kind, Kind::Part | Kind::Stock) {
        let (wanted, is) = (kind.words().0, of_json(text.as_bytes()));
        if is == RESULT || is == STOCK && kind == Kind::Part {
            return Err(refuse(format!("{wanted} is wanted here, and this is {is}")));
        }
    }
    Ok(text)
}

const RESULT: &str = "a saved result: `slipsoak report`, `draw` and `compare` take it";
const STOCK: &str = "a stock of springs: `slipsoak choose --stock` takes it";
const MACHINE: &str = "a machine: `slipsoak sheet` takes it, or a script by `machine(…)`";

const NEITHER: &str = "JSON that holds no machine, stock or result";

/// What a JSON file is, by its keys.
fn of_json(bytes: &[u8]) -> &'static str {
    #[derive(Deserialize)]
    struct Keys {
        kind: Option<IgnoredAny>,
        springs: Option<Value>,
    }
    // A list of values would be read as a structure's fields.
    let listed = bytes.trim_ascii_start().starts_with(b"[");
    match serde_json::from_slice(bytes) {
        _ if listed => NEITHER,
        Ok(Keys { kind: Some(_), .. }) => RESULT,
        // A machine's springs are an object.
        Ok(Keys { springs: Some(Value::Array(_)), .. }) => STOCK,
        Ok(_) => MACHINE,
        Err(_) => NEITHER,
    }
}

/// The name of a file, for messages, and its text.
pub fn named(path: &Path, kind: Kind) -> Result<(String, String), Refusal> {
    let text = text(path, kind)?;
    Ok((path.file_name().map_or_else(String::new, |name| name.to_string_lossy().into_owned()), text))
}

/// The file of one's own that a name means: as it stands, with its ending, or in a folder for such files here or beside
/// this one.
pub fn nearby(path: &Path, folder: &str, ending: &str) -> Option<PathBuf> {
    let with_ending = PathBuf::from(format!("{}{ending}", path.to_str()?.trim_end_matches(ending)));
    let bare = path.parent().is_none_or(|folder| folder.as_os_str().is_empty());
    let folders = ["", folder, &format!("../{folder}")].map(|folder| Path::new(folder).join(&with_ending));
    let places = std::iter::once(path.to_owned()).chain(folders.into_iter().take(if bare { 3 } else { 1 }));
    // A shell makes the file of `slipsoak part NAME > NAME.json` before the program starts.
    let wanted =
        |place: &Path| place.metadata().is_ok_and(|about| about.is_file() && (about.len() > 0 || place == path));
    places.into_iter().find(|place| wanted(place))
}

/// Message for a file that is clearly of another kind.
fn mistaken(path: &Path, kind: Kind) -> Option<String> {
    let (wanted, _) = kind.words();
    let ending = path.extension().map(|e| e.to_string_lossy().to_lowercase()).unwrap_or_default();
    let is = match (ending.as_str(), kind) {
        ("rhai", Kind::Script) | ("json", Kind::Part | Kind::Stock | Kind::Result | Kind::Learned) => return None,
        ("rhai", _) => "a script: `slipsoak run` takes it",
        ("json", _) => of_json(&fs::read(path).ok()?),
        ("csv", Kind::Learned) => "a table: `slipsoak calibrate` learns from tables of measurements",
        ("csv", Kind::Script | Kind::Part | Kind::Stock | Kind::Result) => {
            "a table: `slipsoak retrace` takes a recorded ride, `slipsoak calibrate` takes measurements"
        }
        ("gpx", Kind::Script | Kind::Part | Kind::Stock | Kind::Result | Kind::Learned) => {
            "a recorded ride: `slipsoak retrace` takes it"
        }
        ("html" | "svg" | "png" | "pdf", _) => {
            "what this program draws; it reads the JSON of the result that stands beside it"
        }
        _ => return None,
    };
    path.is_file().then(|| format!("{wanted} is wanted here, and this is {is}"))
}

/// Where scripts are to be had.
const SHIPPED: &str = "; shipped scripts run by their names anywhere, such as orchard, campground, weekend; `slipsoak begin DIR` writes all into a folder";

/// Reason why a file cannot be opened.
fn missing(path: &Path, kind: Kind, error: &std::io::Error) -> String {
    let (wanted, ending) = kind.words();
    if path.is_dir() {
        let saved = Saved::ALL.iter().find(|kind| path.join(kind.file()).is_file());
        return match kind {
            Kind::Result => "it is a folder without a result in it".to_owned(),
            Kind::Learned => format!("it is a folder without {wanted}"),
            _ if saved.is_some() => format!("it is a folder that holds {RESULT}"),
            _ => format!("it is a folder; name {wanted} in it"),
        };
    }
    if error.kind() != ErrorKind::NotFound {
        return error.to_string();
    }
    let longer = path.with_extension(ending);
    if longer != path && longer.is_file() {
        return format!("there is no such file; did you mean {}?", longer.display());
    }
    if let Some((file, _)) = path.file_name().and_then(|name| shipped::named(&name.to_string_lossy())) {
        return format!("there is no such file; `slipsoak begin DIR` writes the shipped {file} into DIR");
    }
    let name = path.file_stem().unwrap_or_default().to_string_lossy();
    if kind == Kind::Part && built_in(&name.to_lowercase()).is_some() {
        return "there is no such file; the built-in machine is called `example`".to_owned();
    }
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    if !folder.is_dir() {
        return format!("there is no folder {}", folder.display());
    }
    let instead = instead(&name, &[folder.to_owned()], ending);
    let more = match kind {
        _ if instead.ends_with('?') => "",
        Kind::Part => {
            "; or name a shipped machine, orchard-cart, trail-cart or weekend-cart, or `example`, the built-in machine"
        }
        Kind::Table => "; a recorded ride is a .csv or .gpx file, a table of readings a .csv file",
        Kind::Script => SHIPPED,
        Kind::Stock => {
            "; a stock of springs is a file, such as springs.json with {\"springs\": [{\"name\": \"1900 rpm\", \"engagement\": \"1900 rpm\"}]}"
        }
        Kind::Result | Kind::Learned => "",
    };
    format!("there is no such file; {instead}{more}")
}

/// Largest number of names in a message.
const FEW: usize = 6;

/// What stands in some folders instead of a file: the nearest name with that ending, else the first few.
pub(crate) fn instead(name: &str, folders: &[PathBuf], ending: &str) -> String {
    let entries = folders.iter().filter_map(|folder| fs::read_dir(folder).ok()).flatten();
    let files = entries.filter_map(|entry| entry.ok()?.file_name().into_string().ok());
    let stems = files.filter_map(|file| Some(file.strip_suffix(ending)?.strip_suffix('.')?.to_owned()));
    let stems: BTreeSet<String> = stems.collect();
    if let Some(near) = nearest(name, stems.iter().map(String::as_str)) {
        return format!("did you mean `{near}.{ending}`?");
    }
    let few: Vec<String> = stems.iter().take(FEW).map(|stem| format!("{stem}.{ending}")).collect();
    match stems.len() {
        0 => format!("no file there ends in .{ending}"),
        1..=FEW => format!("files there that end in .{ending}: {}", few.join(", ")),
        count => format!("{count} files there end in .{ending}: {}, …", few.join(", ")),
    }
}
