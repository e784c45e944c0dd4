//! Hash of a text, by which a result identifies its inputs.

use sha2::{Digest, Sha256};
use std::fmt::Write as _;

/// SHA-256, hexadecimal.
pub(crate) fn hash(text: &str) -> String {
    Sha256::digest(text.as_bytes()).iter().fold(String::new(), |mut hex, byte| {
        let _ = write!(hex, "{byte:02x}");
        hex
    })
}
