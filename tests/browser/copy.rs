//! A copy of a page, opened by the browser from disk with the network off.

use serde_json::Value;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

const FLAGS: &[&str] = &[
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--enable-logging=stderr",
    "--window-size=1280,900",
    // The network is off: no name server, and a proxy that does not answer.
    "--host-resolver-rules=MAP * ~NOTFOUND",
    "--proxy-server=127.0.0.1:9",
];

/// Output of one visit of the browser: the document and the log.
pub fn visit(page: &Path, flags: &[&str]) -> (String, String) {
    let own = tempfile::tempdir().expect("a folder");
    let made = Command::new("chromium")
        .args(FLAGS)
        .arg(format!("--user-data-dir={}", own.path().display()))
        .args(flags)
        .arg(format!("file://{}", page.display()))
        .output()
        .expect("chromium is installed");
    (String::from_utf8_lossy(&made.stdout).into_owned(), String::from_utf8_lossy(&made.stderr).into_owned())
}

/// A page under test in a folder of its own.
pub struct Copy {
    pub folder: tempfile::TempDir,
    pub html: String,
}

impl Copy {
    pub fn of(html: &str) -> Self {
        Self { folder: tempfile::tempdir().expect("a folder"), html: html.to_owned() }
    }

    pub fn write(&self, name: &str, html: &str) -> PathBuf {
        let path = self.folder.path().join(name);
        fs::write(&path, html).expect("a copy");
        path
    }

    /// Complaints of the browser itself when it opens the page unchanged.
    pub fn complaints(&self) -> Vec<String> {
        let (_, log) = visit(&self.write("page.html", &self.html), &["--dump-dom"]);
        log.lines().filter(|l| l.contains("CONSOLE")).map(str::to_owned).collect()
    }

    /// The page with the probe.
    fn probed(&self) -> String {
        let allowed = self.html.replacen("default-src 'none'", "script-src 'unsafe-inline'; default-src 'none'", 1);
        let probe = format!("<head><script>{}</script>", include_str!("probe.js"));
        allowed.replacen("<head>", &probe, 1)
    }

    /// Findings of the probe in a window.
    pub fn seen(&self) -> Value {
        let (dom, log) = visit(&self.write("probed.html", &self.probed()), &["--dump-dom"]);
        found(&dom, "", &log)
    }

    /// Findings of the probe in a frame of each of these widths, px, by one visit: a window is never narrower than 500 px.
    pub fn seen_at(&self, widths: [u32; 2], flags: &[&str]) -> [Value; 2] {
        let inside = self.probed().replace('&', "&amp;").replace('"', "&quot;");
        let frames = widths.map(|width| {
            format!(
                "<iframe name=\"{width}\" style=\"border:0;width:{width}px;height:900px\" srcdoc=\"{inside}\"></iframe>"
            )
        });
        let page = format!("<!DOCTYPE html><meta charset=\"utf-8\"><body style=\"margin:0\">{}", frames.concat());
        let (dom, log) = visit(&self.write("framed.html", &page), &[flags, &["--dump-dom"]].concat());
        widths.map(|width| found(&dom, &width.to_string(), &log))
    }
}

/// What the probe left of a frame, or of a window, which has no name.
fn found(dom: &str, frame: &str, log: &str) -> Value {
    let begin = format!("<pre id=\"seen-{frame}\">");
    let json = dom.split(&begin).nth(1).and_then(|rest| rest.split("</pre>").next());
    let json = json.unwrap_or_else(|| panic!("the probe left nothing: {log}"));
    let plain = json.replace("&lt;", "<").replace("&gt;", ">").replace("&amp;", "&");
    serde_json::from_str(&plain).expect("JSON")
}
