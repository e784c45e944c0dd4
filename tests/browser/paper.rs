//! Faults of a page on paper.

use super::copy::{Copy, visit};
use std::process::Command;

impl Copy {
    /// Number of A4 pages if that is chosen to be printed.
    pub fn pages(&self, chosen: &str) -> usize {
        let paper = self.folder.path().join("pages.pdf");
        let html = self.html.replacen(" id=\"print-open\" checked", " id=\"print-open\"", 1);
        let html = html.replacen(&format!(" id=\"print-{chosen}\""), &format!(" id=\"print-{chosen}\" checked"), 1);
        let html = html.replacen("<head>", "<head><style>@page { size: A4 }</style>", 1);
        visit(
            &self.write("pages.html", &html),
            &["--no-pdf-header-footer", &format!("--print-to-pdf={}", paper.display())],
        );
        let boxes =
            Command::new("pdftotext").arg("-bbox").arg(&paper).arg("-").output().expect("pdftotext is installed");
        String::from_utf8_lossy(&boxes.stdout).matches("<page ").count()
    }

    /// All faults on paper of a size.
    pub fn printed(&self, size: &str) -> Vec<String> {
        let corner = |end: &str, k: usize, side: &str| {
            format!("<span style=\"position:absolute;left:0;{side}:0;font-size:5px\">FIGURE{end}{k}X</span>")
        };
        let mut html = self.html.replacen("<head>", &format!("<head><style>@page {{ size: {size} }}</style>"), 1);
        // Two words 400 px apart: 300 pt, unless something too wide makes the browser shrink the whole page.
        let apart = [("SCALEFROM", 0), ("SCALETO", 400)]
            .map(|(word, at)| format!("<span style=\"position:absolute;font-size:5px;left:{at}px\">{word}</span>"));
        html = html.replacen("<body>", &format!("<body style=\"position:relative\">{}", apart.concat()), 1);
        // A reader who wants everything on paper.
        html = html.replacen(" id=\"print-open\" checked", " id=\"print-open\"", 1);
        html = html.replacen(" id=\"print-everything\"", " id=\"print-everything\" checked", 1);
        let figures = html.matches("<figure id=").count();
        for k in 1..=figures {
            let open = format!("<figure id=\"figure-{k}\">");
            let marked = format!("<figure style=\"position:relative\" id=\"figure-{k}\">{}", corner("TOP", k, "top"));
            html = html.replacen(&open, &marked, 1);
            let at = html.find(&marked).expect("the figure");
            let end = at + html[at..].find("</figure>").expect("its end");
            html.insert_str(end, &corner("END", k, "bottom"));
        }
        let paper = self.folder.path().join("page.pdf");
        visit(
            &self.write("marked.html", &html),
            &["--no-pdf-header-footer", &format!("--print-to-pdf={}", paper.display())],
        );
        let boxes =
            Command::new("pdftotext").arg("-bbox").arg(&paper).arg("-").output().expect("pdftotext is installed");
        let boxes = String::from_utf8_lossy(&boxes.stdout).into_owned();
        let number = |line: &str, name: &str| -> f64 {
            let value = line.split(&format!("{name}=\"")).nth(1).and_then(|rest| rest.split('"').next());
            value.and_then(|v| v.parse().ok()).unwrap_or(f64::NAN)
        };
        let mut faults = vec![];
        let (mut page, mut width, mut tops, mut ends) = (0, 0.0, vec![0; figures + 1], vec![0; figures + 1]);
        for line in boxes.lines() {
            if line.contains("<page ") {
                page += 1;
                width = number(line, "width");
                // A4 is 595 pt wide, Letter 612: the requested size was printed.
                let wanted = if size == "A4" { 595.0 } else { 612.0 };
                if (width - wanted).abs() > 1.0 {
                    faults.push(format!("page {page} is {width} pt wide"));
                }
            }
            // The margins are 14 mm = 39.7 pt; the browser cuts off text that extends into them, even within a letter.
            if line.contains("<word ") && !(number(line, "xMin") > 39.0 && number(line, "xMax") < width - 39.0) {
                faults.push(format!("page {page}: beyond the margin: {line}"));
            }
            for k in 1..=figures {
                for (end, found) in [("TOP", &mut tops), ("END", &mut ends)] {
                    if line.contains(&format!("FIGURE{end}{k}X")) {
                        found[k] = page;
                    }
                }
            }
        }
        let left = |word: &str| {
            let line = boxes.lines().find(|l| l.contains(&format!(">{word}<")));
            line.map_or(f64::NAN, |l| number(l, "xMin"))
        };
        let apart = left("SCALETO") - left("SCALEFROM");
        if !((apart - 300.0).abs() < 1.0) {
            faults.push(format!("something is too wide: the page is shrunk to {:.2}", apart / 300.0));
        }
        for k in 1..=figures {
            if tops[k] == 0 || tops[k] != ends[k] {
                faults.push(format!("figure {k} runs from page {} to page {}", tops[k], ends[k]));
            }
        }
        faults
    }
}
