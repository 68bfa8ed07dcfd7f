//! The columns of `Rules used`, which a later run compares with its own rules.

use super::{Form, Kind, columns};

/// What stands under `Source` for a value that nobody gave.
pub const BUILT_IN: &str = "built in";

columns! { RULES_USED, "Rules used", Form::Rows, "Every rule of a run, and where its value comes from.";
    TABLE "table" "Table" [] Kind::Text, "never blank", "The sheet that the rule belongs to.";
    ITEM "item" "Item" [] Kind::Text, "an item of Project", "What the rule is about.";
    RULE "rule" "Rule" [] Kind::Text, "never blank", "The rule.";
    VALUE "value" "Value" [] Kind::Text, "not known", "Its value.";
    SOURCE "source" "Source" [] Kind::Text, "built in", "Where the value comes from.";
    WHY "why" "Why" [] Kind::Text, "from the survey", "Why it is what it is.";
}
