//! Slips of JSON as people type it: single quotes, comments, bare names and quantities, commas too many or too few.

/// A slip, and where it stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Slip {
    /// line, from 1
    pub line: usize,
    /// character of the line, from 1
    pub column: usize,
    /// what to write
    pub why: &'static str,
}

const QUOTES: [char; 7] = ['\'', '“', '”', '„', '‘', '’', '«'];
const QUOTED: &str = "names and texts stand in straight double quotes";
const COMMENT: &str = "JSON has no comments; a note goes into \"about\"";
const KEY: &str = "names of settings stand in double quotes";
const VALUE: &str = "a text, or a quantity with its unit, stands in double quotes, as in \"160 kg\"";
const SPARE: &str = "take away the comma before the closing brace or bracket";
const MISSING: &str = "a comma is missing before this";

/// The text as it was probably meant, and its slips in order.
///
/// ```
/// use slipsoak_engine::parts_file::mended;
/// let (text, slips) = mended("{name: 'cart', 'vehicle': {\"mass\": 160 kg,} } // mine");
/// assert_eq!(text, "{\"name\": \"cart\", \"vehicle\": {\"mass\": \"160 kg\"} } ");
/// assert_eq!(slips.len(), 6);
/// ```
pub fn mended(text: &str) -> (String, Vec<Slip>) {
    let mut mender = Mender { text, at: 0, out: String::new(), slips: vec![], comma: None, valued: false };
    while let Some(c) = text[mender.at..].chars().next() {
        mender.take(c);
    }
    mender.slips.sort_by_key(|slip| (slip.line, slip.column));
    (mender.out, mender.slips)
}

struct Mender<'a> {
    text: &'a str,
    at: usize,
    out: String,
    slips: Vec<Slip>,
    /// the last comma, if no value has followed: its place in the text and in the output
    comma: Option<(usize, usize)>,
    /// whether a value has ended
    valued: bool,
}

impl Mender<'_> {
    fn slip(&mut self, at: usize, why: &'static str) {
        let line = self.text[..at].rfind('\n').map_or(0, |k| k + 1);
        let (line, column) = (self.text[..at].matches('\n').count() + 1, self.text[line..at].chars().count() + 1);
        self.slips.push(Slip { line, column, why });
    }

    /// Passes over so many bytes; `written` is put out.
    fn pass(&mut self, bytes: usize, written: &str) {
        self.at += bytes;
        self.out.push_str(written);
    }

    /// Begins a name or value.
    fn begin(&mut self) {
        if self.valued {
            self.slip(self.at, MISSING);
            self.out.push(',');
        }
        (self.comma, self.valued) = (None, false);
    }

    fn take(&mut self, c: char) {
        let rest = &self.text[self.at..];
        let line = rest.find('\n').unwrap_or(rest.len());
        match c {
            c if c.is_whitespace() => self.pass(c.len_utf8(), &rest[..c.len_utf8()]),
            '#' | '/' if c == '#' || rest.starts_with("//") || rest.starts_with("/*") => {
                self.slip(self.at, COMMENT);
                let block = rest.starts_with("/*").then(|| rest.find("*/").map_or(rest.len(), |end| end + 2));
                self.pass(block.unwrap_or(line), "");
            }
            ',' => {
                (self.comma, self.valued) = (Some((self.at, self.out.len())), false);
                self.pass(1, ",");
            }
            '}' | ']' => {
                if let Some((at, out)) = self.comma.take() {
                    self.slip(at, SPARE);
                    self.out.remove(out);
                }
                self.valued = true;
                self.pass(1, &rest[..1]);
            }
            ':' => {
                self.valued = false;
                self.pass(1, ":");
            }
            '{' | '[' => {
                self.begin();
                self.pass(1, &rest[..1]);
            }
            '"' => {
                self.begin();
                let mut escaped = false;
                let ends = |(_, c): &(usize, char)| {
                    let end = *c == '"' && !escaped;
                    escaped = *c == '\\' && !escaped;
                    end
                };
                let end = rest.char_indices().skip(1).find(ends).map_or(rest.len(), |(end, _)| end + 1);
                self.valued = true;
                self.pass(end, &rest[..end]);
            }
            quote if QUOTES.contains(&quote) => {
                self.begin();
                self.slip(self.at, QUOTED);
                let inner = &rest[quote.len_utf8()..line];
                let (end, closing) = inner
                    .char_indices()
                    .find(|(_, c)| *c == '"' || *c == '»' || QUOTES.contains(c))
                    .map_or((inner.len(), 0), |(end, c)| (end, c.len_utf8()));
                self.valued = true;
                self.pass(quote.len_utf8() + end + closing, &format!("\"{}\"", &inner[..end]));
            }
            _ => self.bare(&rest[..line]),
        }
    }

    /// A name or value without quotes, at the start of the rest of a line.
    fn bare(&mut self, row: &str) {
        self.begin();
        let end = row.find([',', ':', '{', '}', '[', ']', '"', '#']).unwrap_or(row.len());
        let end = row.find("//").map_or(end, |comment| end.min(comment));
        let word = row[..end].trim_end();
        let plain = serde_json::from_str::<serde_json::Value>(word).is_ok();
        let key = row[end..].starts_with(':');
        let infinite = word.parse::<f64>().is_ok_and(|number| !number.is_finite());
        if (plain || infinite) && !key {
            self.pass(word.len(), word);
        } else {
            self.slip(self.at, if key { KEY } else { VALUE });
            self.pass(word.len().max(1), &format!("\"{word}\""));
        }
        self.valued = true;
    }
}
