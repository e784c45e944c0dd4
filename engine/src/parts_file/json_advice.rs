//! Advice for text that is not valid JSON.

use serde_json::Error;
use serde_json::error::Category;

/// Error and remedy, judged by the text at the place.
pub fn advice(error: &Error, text: &str) -> String {
    let why = error.to_string().split(" at line").next().unwrap_or_default().to_owned();
    let row = text.lines().nth(error.line().saturating_sub(1)).unwrap_or_default();
    // The column counts bytes, from 1.
    let column = error.column().saturating_sub(1).min(row.len());
    let (before, after) = (row.get(..column).unwrap_or(row), row.get(column..).unwrap_or_default());
    let decimal =
        before.trim_end().strip_suffix(',').is_some_and(|before| before.ends_with(|c: char| c.is_ascii_digit()));
    let what = match error.classify() {
        Category::Data => return why,
        Category::Eof if text.trim().is_empty() => "the file is empty; `{}` is a machine of defaults",
        Category::Eof => "is it cut short? every brace and bracket has to be closed",
        _ if why.contains("trailing comma") => "take away the comma before the closing brace",
        _ if decimal && after.starts_with(|c: char| c.is_ascii_digit()) => {
            "write numbers with a decimal point, and quantities in quotes, as in \"1.5 mm\""
        }
        _ if after.starts_with(['“', '”', '„', '‘', '’', '\'']) => {
            "names and texts stand in straight double quotes"
        }
        _ if why.contains("expected `,`") && after.starts_with(['"', '{']) => "is a comma missing before it?",
        _ if why.contains("expected `,`") && after.starts_with(char::is_alphabetic) => {
            "a quantity with its unit stands in double quotes, as in \"160 kg\""
        }
        _ if after.starts_with(['/', '#']) => "JSON has no comments; a note goes into \"about\"",
        _ if after.starts_with(char::is_alphabetic) && why.contains("key") => {
            "names of settings stand in double quotes"
        }
        _ if after.starts_with(['N', 'n', 'I', 'i', '-']) => "numbers must be finite",
        _ => "a parts file is JSON, such as {\"vehicle\": {\"mass\": \"160 kg\"}}",
    };
    format!("{why}; {what}")
}
