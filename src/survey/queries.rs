//! What the survey's own room asks.

use super::peers::{Among, Side};
use super::slips::Slip;
use crate::query::{Entry, queries};
use crate::rules::columns::project::PROJECT;
use crate::schema::Column;
use crate::schema::answers::{self, ANSWERS};
use crate::schema::openings::{CATEGORY, FLOOR, OPENING, OPENINGS, QUANTITY, RECESS_DEPTH, TYPE, TYPES};

/// Every query of this room.
pub(crate) const QUERIES: &[&[Entry]] = &[SurveyQuery::ENTRIES, AnswerQuery::ENTRIES];

queries! {
    /// A doubt about a row of the survey, before anything is known of blinds.
    pub(super) enum SurveyQuery {
        NoSize { size: &'static Column }: Stop, "size-missing", fills size,
            "no {} is given", size.name.to_lowercase()
            => "measure the {}, or name a type that gives it", size.name.to_lowercase();
        Nameless: Stop, "opening-without-name", fills &OPENING,
            "a size is given without an id, a unit, a room or a type"
            => "fill in the opening's id, unit, room or type";
        Sizeless: Note, "row-without-size",
            "nothing stands in a size cell, so the row is no opening"
            => "measure it, if a blind is to hang there";
        Total: Note, "row-of-a-total",
            "the row begins with a total, so it is no opening"
            => "nothing to do, unless it is an opening: then name it otherwise";
        Example: Note, "example-row",
            "the example row of a blank survey is left in; it is no opening"
            => "nothing to do; an opening needs an id of its own";
        PassedOver: Note, "table-passed-over",
            "a table holds no openings, so nothing is taken from it"
            => "if its rows are openings, name its sheet {}", OPENINGS.sheet;
        CountsUnused: Note, "counts-unused",
            "how many there are of a type is not used, since the openings are listed one by one"
            => "nothing to do, if every opening has a row of its own";
        FloorFromSheet: Note, "floor-from-sheet",
            "each row's floor is the name of its sheet"
            => "add a column {} if a name is not the floor's", FLOOR.name;
        OtherCategory: Note, "other-category",
            "rows are neither doors nor windows by their category, so they are no openings"
            => "nothing to do, unless a blind is to hang at one of them";
        UnknownCategory: Check, "unknown-category", fills &CATEGORY,
            "the category is no known word for a door or a window; the row is taken as an opening"
            => "write door, window or what else it is in {}", CATEGORY.name;
        LostComponent: Check, "component-without-type",
            "a component's type is not on the sheet Type, so it may be a door or a window; it is left out"
            => "correct its TypeName, or add the type to the sheet Type";
        SameKey: Stop, "same-key", fills &OPENING,
            "another row has the same building, unit and id"
            => "give each row an id of its own, or delete the one that is there twice";
        Repeated: Stop, "row-repeated", fills &OPENING,
            "another row has the same building, unit, id and sizes"
            => "an export may have repeated the row: delete one, or give each its own id";
        UnknownType: Check, "unknown-type", fills &TYPE,
            "no list of types has the type" => "correct the type, or add a row for it to the sheet {TYPES}";
        UnknownTypeWithoutSize: Stop, "unknown-type-without-size", fills &TYPE,
            "no list of types has the type, and the row has no size of its own"
            => "correct the type, or add a row for it to the sheet {TYPES}";
        SeveralTypes: Stop, "type-listed-twice",
            "the type is listed more than once" => "leave one row for each type";
        TypeWithoutName: Check, "type-without-name",
            "a row of a list of types has no type, so no opening can use it" => "fill in its type";
        IdDisagrees: Check, "id-says-other-size",
            "the id says another size than the size columns"
            => "the size columns are used; correct whichever is wrong";
        TypeDisagrees: Check, "type-says-other-size",
            "the type says another size than the size columns"
            => "the size columns are used; correct whichever is wrong";
        // A note may as well speak of a pane or of furniture.
        NoteDisagrees: Note, "note-says-other-size",
            "the note says another size than the size columns"
            => "the size columns are used; correct whichever is wrong";
        PairDisagrees { column: &'static str }: Check, "pair-says-other-size",
            "{column} says another size than the columns of width and height"
            => "the columns of width and height are used; correct whichever is wrong";
        ThirdLength { column: &'static str }: Check, "third-length",
            "{column} holds a third length, which is not taken"
            => "if it is the depth of the recess, write it under {}", RECESS_DEPTH.name;
        SeveralNamed: Check, "id-names-several", fills &QUANTITY,
            "the id names several openings, and the quantity is another number"
            => "write how many there are under {}, or give each a row of its own", QUANTITY.name;
        Unwanted: Check, "blind-unwanted",
            "the note may mean that no blind is wanted; one is ordered" => "delete the row, if that is so";
        OneDiagonal: Note, "one-diagonal",
            "one diagonal alone does not show whether an opening is square"
            => "measure the other one, corner to corner";
        StandsOut { side: Side, among: Among, slip: Option<Slip>, column: &'static Column }:
            Check, "unlike-peers", fills column,
            "its {} is far from that of {}", side.word(), among.words()
            => "{}", slip.map_or_else(|| "measure again; if it is right, nothing is to be done".into(), Slip::hint);
    }
}

queries! {
    /// What is said of the sheet `Answers`.
    pub(super) enum AnswerQuery {
        Taken: Note, "answer-taken",
            "a cell is taken from the sheet {}", ANSWERS.sheet
            => "once it is settled, write it into {} and delete the answer", OPENINGS.sheet;
        NoHeadings: Check, "answers-without-headings",
            "the sheet {} has no headings {} and {}", ANSWERS.sheet, answers::COLUMN.name, answers::VALUE.name
            => "copy the whole sheet Queries, with its headings";
        UnknownOpening: Check, "answer-for-unknown-opening",
            "an answer is for an opening that the survey does not have"
            => "name it as the sheet Queries does, or by a cell of its row, such as Openings!A12";
        SeveralOpenings: Check, "answer-for-several",
            "an answer is for a name that more than one opening has"
            => "name it as the sheet Queries does, or by a cell of its row, such as Openings!A12";
        NoOpening: Check, "answer-for-no-opening",
            "an answer is for no opening, and none is listed under its query"
            => "fill in {}", answers::OPENING.name;
        UnknownColumn: Check, "answer-for-unknown-column",
            "an answer is for a column that the sheet {} cannot have", OPENINGS.sheet
            => "write the heading as a blank survey does";
        OfProject: Check, "answer-for-project",
            "an answer is for an item of the sheet {}, which {} does not reach", PROJECT.sheet, ANSWERS.sheet
            => "write it beside the item on the sheet {}", PROJECT.sheet;
        NoColumn: Note, "answer-without-column",
            "an answer without a column changes nothing"
            => "nothing to do, if it is a remark; else write in the survey what it says";
        Differ { column: &'static str }: Stop, "answers-differ",
            "{column} has answers that differ" => "leave one answer for each opening and column";
    }
}
