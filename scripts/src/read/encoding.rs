//! Bytes of a file as text: UTF-8, UTF-16 with a byte order mark, or Windows-1252, of which Latin-1 is a part.

/// What to save a file as.
const SAVE: &str = "save it as UTF-8";
/// Windows-1252 where it differs from Unicode, from 0x80 on; five bytes mean nothing.
const WINDOWS: [char; 32] = [
    '€', '\0', '‚', 'ƒ', '„', '…', '†', '‡', 'ˆ', '‰', 'Š', '‹', 'Œ', '\0', 'Ž', '\0', '\0', '‘', '’', '“', '”', '•',
    '–', '—', '˜', '™', 'š', '›', 'œ', '\0', 'ž', 'Ÿ',
];

/// Bytes as text without a byte order mark, or the reason why they are none.
pub(crate) fn decoded(bytes: Vec<u8>) -> Result<String, String> {
    if let Some(wide) = bytes.strip_prefix(&[0xff, 0xfe]) {
        return wide_text(wide, u16::from_le_bytes);
    }
    if let Some(wide) = bytes.strip_prefix(&[0xfe, 0xff]) {
        return wide_text(wide, u16::from_be_bytes);
    }
    match String::from_utf8(bytes) {
        Ok(text) => match text.find('\0') {
            Some(at) => Err(not_text(&text.as_bytes()[..at])),
            None => Ok(text.strip_prefix('\u{feff}').map_or(text.clone(), str::to_owned)),
        },
        Err(e) => {
            let valid = e.utf8_error().valid_up_to();
            narrow_text(e.as_bytes(), valid)
        }
    }
}

/// Text in UTF-16.
fn wide_text(bytes: &[u8], unit: fn([u8; 2]) -> u16) -> Result<String, String> {
    let (pairs, rest) = bytes.as_chunks::<2>();
    let text: Result<String, _> = char::decode_utf16(pairs.iter().map(|pair| unit(*pair))).collect();
    match text {
        Ok(text) if rest.is_empty() && !text.contains('\0') => Ok(text),
        _ => Err(format!("it begins as text in UTF-16 but is none throughout; {SAVE}")),
    }
}

/// Text of one byte a character. Bytes that are UTF-8 in part have no one meaning.
fn narrow_text(bytes: &[u8], valid: usize) -> Result<String, String> {
    if bytes[..valid].iter().any(|b| !b.is_ascii()) || bytes.utf8_chunks().any(|c| !c.valid().is_ascii()) {
        return Err(not_text(&bytes[..valid]));
    }
    let one = |b: &u8| match b {
        0x80..=0x9f => Some(WINDOWS[usize::from(b - 0x80)]).filter(|c| *c != '\0'),
        0..=8 | 0x0e..=0x1f | 0x7f => None,
        _ => Some(char::from(*b)),
    };
    bytes.iter().map(one).collect::<Option<String>>().ok_or_else(|| not_text(&bytes[..valid]))
}

/// Says from which line on a file is no text.
fn not_text(before: &[u8]) -> String {
    let line = before.split(|b| *b == b'\n').count();
    format!("it is not text in UTF-8 (line {line}), nor in UTF-16 with its mark or Windows-1252; {SAVE}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_of_windows_and_of_spreadsheets_is_read_as_what_was_typed() {
        let typed = "Müller; 0,065″ ± 5 °C – “ok” €\n";
        let wide = |unit: fn(u16) -> [u8; 2], mark: [u8; 2]| {
            mark.into_iter().chain(typed.encode_utf16().flat_map(unit)).collect()
        };
        let [little, big]: [Vec<u8>; 2] = [wide(u16::to_le_bytes, [0xff, 0xfe]), wide(u16::to_be_bytes, [0xfe, 0xff])];
        let marked = format!("\u{feff}{typed}").into_bytes();
        for bytes in [typed.as_bytes().to_vec(), marked, little, big] {
            assert_eq!(decoded(bytes).as_deref(), Ok(typed));
        }
        // The code page as published by the Unicode consortium (from memory).
        assert_eq!(
            decoded(b"M\xfcller \xb1 5 \xb0C \x96 \x93ok\x94 \x80".to_vec()).as_deref(),
            Ok("Müller ± 5 °C – “ok” €")
        );
    }

    #[test]
    fn what_is_no_text_or_text_of_two_kinds_is_refused_with_its_line() {
        for (bytes, line) in [
            (&b"a\nM\xc3\xbcller\nM\xfcller\n"[..], "(line 3)"),
            (b"a\n\x89PNG\r\n\x1a\n\x00\x01", "(line 2)"),
            (b"a\nM\x81\n", "(line 2)"),
            (b"t\x00i\x00m\x00e\x00", "(line 1)"),
            (b"\xff\xfea\x00b", "begins as text in UTF-16 but is none"),
        ] {
            let refused = decoded(bytes.to_vec()).expect_err(line);
            assert!(refused.contains(line) && refused.contains("save it as UTF-8"), "{refused}");
        }
    }
}
