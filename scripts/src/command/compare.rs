//! Two saved results beside each other.

use crate::command::arguments::Compare;
use crate::command::page::{free, write};
use crate::command::terminal::width;
use crate::error::Error;
use crate::read::refusal::Refusal;
use crate::read::saved;
use slipsoak_plots::page::Page;

/// Performs `slipsoak compare`.
pub fn perform(asked: &Compare) -> Result<String, Error> {
    if let Some(out) = &asked.out {
        free(out, asked.replace)?;
    }
    let paths = [&asked.first, &asked.second];
    let [first, second] = [saved::read(paths[0])?, saved::read(paths[1])?];
    let names = paths.map(|path| path.display().to_string());
    if first.kind() != second.kind() {
        let of = |name: &str, kind: slipsoak_engine::document::Kind| {
            format!("{name} is a result of the kind `{}` ({})", kind.name(), kind.meaning())
        };
        let (a, b) = (of(&names[0], first.kind()), of(&names[1], second.kind()));
        return Err(Refusal::of_command(format!("{a}, {b}: two results of one kind are compared")).into());
    }
    let page = Page::of_two([&names[0], &names[1]], [&first, &second]);
    if let Some(out) = &asked.out {
        write(&page, out)?;
    }
    Ok(page.text(width(), asked.details))
}
