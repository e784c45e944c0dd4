//! Names that have changed: the earlier ones still work, and a note says the new one.

/// Earlier text of a script, and what it is now.
const RENAMED: [(&str, &str, &str); 2] = [
    (".found(", "`ride.found(fill)`", "`ride.set_fill(fill)`"),
    ("machine(\"standard\")", "`machine(\"standard\")`", "`machine(\"example\")`"),
];

/// A note for each earlier name that a script uses, outside comments.
pub fn notes(script: &str) -> Vec<String> {
    let code: Vec<&str> = script.lines().map(|line| line.split("//").next().unwrap_or_default()).collect();
    let used = RENAMED.iter().filter(|(text, ..)| code.iter().any(|line| line.contains(text)));
    used.map(|(_, was, now)| format!("note: {was} is now {now}; the earlier name still works")).collect()
}

#[cfg(test)]
mod tests {
    use super::notes;

    #[test]
    fn a_script_with_earlier_names_is_told_the_new_ones_and_a_comment_is_not() {
        let said = notes("let m = machine(\"standard\");\n ride.found(0.7); // .found(\n ride.found(0.5);");
        assert_eq!(said.len(), 2, "{said:?}");
        assert!(said[0].contains("`ride.set_fill(fill)`") && said[1].contains("`machine(\"example\")`"), "{said:?}");
        assert!(notes("let m = machine(\"example\"); // once machine(\"standard\")\nride.set_fill(0.7);").is_empty());
    }
}
