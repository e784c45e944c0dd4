//! Faults of a page on a screen, by what the probe found.

use super::copy::Copy;
use serde_json::Value;

impl Copy {
    /// All faults on a screen.
    pub fn faults(&self) -> Vec<String> {
        faults_of(&self.seen())
    }
}

/// All faults among what the probe found.
pub fn faults_of(seen: &Value) -> Vec<String> {
    let texts = |value: &Value| -> Vec<String> {
        value.as_array().expect("a list").iter().map(|v| v.as_str().unwrap_or_default().to_owned()).collect()
    };
    let mut faults = texts(&seen["errors"]);
    faults.extend(texts(&seen["access"]));
    faults.extend(texts(&seen["requests"]).iter().map(|r| format!("it asks for {r}")));
    faults.extend(texts(&seen["unreachable"]).iter().map(|e| format!("no key reaches {e}")));
    if seen["wider"].as_f64().expect("px") > 0.0 {
        faults.push(format!("the page is wider than the window by {} px", seen["wider"]));
    }
    let faintest = seen["faintest"]["ratio"].as_f64().expect("a ratio");
    // WCAG 2.2, 1.4.3: text 4.5 to 1.
    if faintest < 4.5 {
        faults.push(format!("faint, {faintest:.2} to 1: {}", seen["faintest"]["text"]));
    }
    for (k, figure) in seen["figures"].as_array().expect("figures").iter().enumerate() {
        let name = format!("figure {}", k + 1);
        if figure["visible"] != true {
            faults.push(format!("{name} is not seen"));
        }
        if figure["inside"] != true {
            faults.push(format!("{name} reaches out of the page"));
        }
        if figure["texts"].as_u64().unwrap_or(0) < 3 {
            faults.push(format!("{name} has no words"));
        }
        faults.extend(texts(&figure["outside"]).iter().map(|t| format!("{name}: outside it: {t}")));
        faults.extend(texts(&figure["crossing"]).iter().map(|t| format!("{name}: one on the other: {t}")));
        if figure["faint"].as_f64().is_none_or(|ratio| ratio < 4.5) {
            faults.push(format!("{name} has words of {} to 1: {}", figure["faint"], figure["faintest"]));
        }
    }
    for (k, figure) in seen["hovers"].as_array().expect("figures").iter().enumerate() {
        let [said, of] = ["said", "of"].map(|name| figure[name].as_u64().unwrap_or(0));
        // A mark may lie wholly below a guide or a frame, which says nothing; where nothing fails a fleet has no marks.
        if 4 * said < 3 * of {
            faults.push(format!("figure {}: {said} of {of} marks say to a pointer what they are", k + 1));
        }
    }
    faults.extend(dead_switches(&seen["switches"]));
    faults
}

fn dead_switches(switches: &Value) -> Vec<String> {
    let mut faults = vec![];
    let scales = switches["scales"].as_object().expect("scales");
    for (name, c, f) in [("celsius", true, false), ("fahrenheit", false, true), ("both", true, true)] {
        if let Some(state) = scales.get(name)
            && ((state["c"] != 0) != c || (state["f"] != 0) != f)
        {
            faults.push(format!("the switch to {name} leaves {state}"));
        }
    }
    for (k, state) in switches["hidden"].as_array().expect("boxes").iter().enumerate() {
        if state["drawn"] == 0 {
            faults.push(format!("box {k} hides nothing in figures"));
        }
        if state["before"] == 0 || state["after"] != 0 || state["again"] != state["first"] {
            faults.push(format!("box {k} leaves {state}"));
        }
    }
    faults
}
