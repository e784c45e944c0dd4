//! The command that judges springs for the carts of a season.

use crate::words::text::shell;
use slipsoak_engine::season::Season;
use slipsoak_engine::units::in_celsius;

/// Options of a season that say of a machine what they say to `choose`.
const ALIKE: [&str; 7] = ["--set", "--learned", "--wander", "--mass", "--wheel", "--gears", "--oil"];

/// The command that judges every spring of a stock for these carts, in this use and in the warmest month; its name alone where the season
/// was asked by a script, whose machine has no file.
pub(super) fn choose(season: &Season) -> String {
    let [program, question, part, options @ ..] = season.head.command.as_slice() else { return named() };
    if question != "season" {
        return named();
    }
    let warmest = season.question.temperatures.iter().map(|month| month.1).fold(f64::MIN, f64::max);
    let ambient = format!("surroundings.ambient={:.1} °C", in_celsius(warmest));
    let own = options.windows(2).filter(|pair| ALIKE.contains(&pair[0].as_str())).flatten().map(String::as_str);
    let all = [program, "choose", part].into_iter().chain(own);
    let all = all.chain(["--use", &season.usage, "--set", &ambient]);
    format!("`{}`", shell(all))
}

fn named() -> String {
    "`slipsoak choose`".to_owned()
}
