//! Rows of the words of the script language, grouped by what they are used for.

pub(crate) mod crossing;
pub(crate) mod fleet;
pub(crate) mod machine;
pub(crate) mod questions;
pub(crate) mod readings;
pub(crate) mod ride;
pub(crate) mod script;
pub(crate) mod services;
