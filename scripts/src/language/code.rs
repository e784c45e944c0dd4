//! The text of a script, read without the interpreter: strings and comments, lines, brackets, blocks by their indentation.

use std::ops::Range;

/// The text with strings and comments blanked out, byte for byte; quotes stay. A `#` that begins no map is taken for a comment.
pub fn masked(text: &str) -> String {
    let bytes = text.as_bytes();
    let mut code = bytes.to_vec();
    let mut at = 0;
    let blank = |code: &mut Vec<u8>, range: Range<usize>| {
        code[range].iter_mut().filter(|byte| !matches!(byte, b'\n' | b'\r')).for_each(|byte| *byte = b' ');
    };
    while at < bytes.len() {
        let rest = &text.as_bytes()[at..];
        let line = rest.iter().position(|byte| *byte == b'\n').unwrap_or(rest.len());
        let hash = rest[0] == b'#' && !matches!(rest.get(1), Some(b'{' | b'"' | b'#'));
        let length = match rest[0] {
            b'/' if rest.starts_with(b"//") => line,
            b'#' if hash => line,
            b'/' if rest.starts_with(b"/*") => {
                rest.windows(2).position(|two| two == b"*/").map_or(rest.len(), |k| k + 2)
            }
            quote @ (b'"' | b'`') => {
                let mut end = 1;
                while end < line && rest[end] != quote {
                    end += if rest[end] == b'\\' { 2 } else { 1 };
                }
                let end = end.min(line);
                blank(&mut code, at + 1..at + end);
                at += (end + 1).min(rest.len());
                continue;
            }
            _ => {
                at += 1;
                continue;
            }
        };
        blank(&mut code, at..at + length);
        at += length;
    }
    String::from_utf8(code).unwrap_or_else(|_| text.to_owned())
}

/// The line that holds a byte, without its end.
pub fn line(text: &str, at: usize) -> Range<usize> {
    let start = text[..at].rfind('\n').map_or(0, |k| k + 1);
    let end = text[at..].find('\n').map_or(text.len(), |k| at + k);
    start..start + text[start..end].trim_end_matches('\r').len()
}

/// Whether a character may stand in a name.
pub fn named(c: char) -> bool {
    c.is_alphanumeric() || c == '_'
}

/// Places of a name in code, outside longer names and not after a point.
pub fn uses<'a>(code: &'a str, name: &'a str) -> impl Iterator<Item = Range<usize>> + 'a {
    let alone = move |at: usize| {
        let (before, after) = (&code[..at], &code[at + name.len()..]);
        !before.ends_with(|c: char| named(c) || c == '.') && !after.starts_with(named)
    };
    code.match_indices(name).map(|found| found.0).filter(move |at| alone(*at)).map(|at| at..at + name.len())
}

/// The arguments of the call whose name is at these bytes, without their brackets.
pub fn arguments(code: &str, name: &Range<usize>) -> Option<Range<usize>> {
    let rest = &code[name.end..];
    let open = name.end + rest.len() - rest.trim_start().len();
    code[open..].starts_with('(').then_some(())?;
    Some(open + 1..closing(code, open + 1)?)
}

/// The first closing bracket after a byte that was opened before it.
pub fn closing(code: &str, from: usize) -> Option<usize> {
    let mut depth = 0;
    for (k, c) in code[from..].char_indices() {
        match c {
            '(' | '[' | '{' => depth += 1,
            ')' | ']' | '}' if depth == 0 => return Some(from + k),
            ')' | ']' | '}' => depth -= 1,
            _ => {}
        }
    }
    None
}

/// The outermost brace that is still open at the end of some code.
pub fn outermost(code: &str) -> Option<usize> {
    let mut open = vec![];
    for (at, c) in code.char_indices() {
        match c {
            '{' => open.push(at),
            '}' => drop(open.pop()),
            _ => {}
        }
    }
    open.first().copied()
}

/// Braces that are opened, less those that are closed.
pub fn open_braces(code: &str) -> isize {
    code.matches('{').count().cast_signed() - code.matches('}').count().cast_signed()
}

fn indentation(text: &str, line: &Range<usize>) -> usize {
    text[line.clone()].chars().take_while(|c| c.is_whitespace()).map(|c| if c == '\t' { 4 } else { 1 }).sum()
}

/// The end of the code of the lines below a line that are indented more, and the code of the line after them.
pub fn block<'a>(code: &'a str, head: &Range<usize>) -> (Option<usize>, &'a str) {
    let depth = indentation(code, head);
    let (mut end, mut at) = (None, head.end);
    while let Some(next) = code[at..].find('\n').map(|k| at + k + 1) {
        let line = line(code, next);
        at = line.end;
        let row = code[line.clone()].trim_end();
        if row.trim().is_empty() {
            continue;
        }
        if indentation(code, &line) <= depth {
            return (end, row.trim_start());
        }
        end = Some(line.start + row.len());
    }
    (end, "")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn strings_and_comments_of_any_letters_are_blanked_out_and_every_byte_keeps_its_place() {
        let text = "let a = \"ü // {\"; // {\n# {\nlet m = #{ b: 1 }; /* { \n */ c(`{`)";
        let code = masked(text);
        assert_eq!(code.len(), text.len());
        assert_eq!((code.matches('{').count(), open_braces(&code)), (1, 0), "{code}");
        assert_eq!(masked("a(\"open\nb(1)"), "a(\"    \nb(1)");
    }

    #[test]
    fn a_block_ends_at_the_last_line_that_is_indented_more_than_its_head() {
        let text = "for i in 0..3:\n    a();\n\n    b();  // c\nd();";
        assert_eq!(block(&masked(text), &line(text, 3)), (text.find("  // c"), "d();"));
        assert_eq!(block("a\nb", &(0..1)), (None, "b"));
    }
}
