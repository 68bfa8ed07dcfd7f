//! What the survey's own room asks.

use super::other_unit::OtherUnit;
use super::peers::{Among, Side};
use super::slips::Slip;
use crate::length::Unit;
use crate::query::{Entry, queries};
use crate::rules::columns::project::PROJECT;
use crate::schema::Column;
use crate::schema::answers::{self, ANSWERS};
use crate::schema::cobie::types::{NOMINAL_HEIGHT, NOMINAL_WIDTH};
use crate::schema::headings::NOT_NEEDED;
use crate::schema::openings::{
    CATEGORY, FLOOR, KIND, MEASURED, OPENING, OPENINGS, OPENS, QUANTITY, RECESS_DEPTH, TYPE, TYPES,
};

/// Every query of this room.
pub(crate) const QUERIES: &[&[Entry]] = &[SurveyQuery::ENTRIES, AnswerQuery::ENTRIES];

queries! {
    /// A doubt about a row of the survey, before anything is known of blinds.
    pub(super) enum SurveyQuery {
        NoSize { size: &'static Column }: Stop, "size-missing", fills size,
            "no {} is given", size.name.to_lowercase()
            => "measure the {}, or enter a type that gives it", size.name.to_lowercase();
        Unsized: Stop, "no-size",
            "no size is given" => "measure it, or enter the size of its type";
        OtherUnit { doubt: OtherUnit }: Stop, "sizes-in-other-unit",
            "{}", doubt.words() => "{}", doubt.hint();
        TooSmall { likely: Unit }: Check, "size-too-small",
            "the size is too small for a door or a window"
            => "the numbers are probably in {}: measure again, or enter them with their unit", likely.plural();
        SaidBlank: Note, "said-blank",
            "a dash, n/a or none is read as a blank cell" => "nothing to do, unless something is known there";
        SaidNone { column: &'static Column }: Check, "none-where-blank-counts", fills column,
            "{} says none, which is read as a blank cell", column.name
            => "enter what is meant: 0, another value, or nothing if it is not known";
        NotYetKnown { column: &'static Column }: Check, "to-be-confirmed", fills column,
            "{} is still to be confirmed; it is read as a blank cell", column.name
            => "enter it once it is known";
        PatioDoorOrWindow: Check, "patio-door-or-window", fills &KIND,
            "its height makes it a patio door, but it is called a window"
            => "enter patio door or window under {}", KIND.name;
        TypeSize { column: &'static Column }: Check, "size-from-text",
            "{} and {} are missing; the size under {} is used, width first", NOMINAL_WIDTH.name, NOMINAL_HEIGHT.name, column.name
            => "check that the width comes first, or fill in {} and {}", NOMINAL_WIDTH.name, NOMINAL_HEIGHT.name;
        Nameless: Stop, "opening-without-name", fills &OPENING,
            "the row has a size, but no id, unit, room or type"
            => "fill in the opening's id, unit, room or type";
        Sizeless: Note, "row-without-size",
            "the row has no size, so it is not treated as an opening"
            => "measure it if it needs a blind";
        Total: Note, "row-of-a-total",
            "this is a total row, so it is not treated as an opening"
            => "nothing to do; if it is an opening, give it another name";
        Example: Note, "example-row",
            "the example row is still in the survey; it is ignored"
            => "nothing to do; to use the row, give it its own id";
        PassedOver: Note, "table-passed-over",
            "the table lists no openings, so it is ignored"
            => "if its rows are openings, rename its sheet {}", OPENINGS.sheet;
        OpeningsElsewhere: Check, "openings-on-another-sheet",
            "the table looks like openings, but next to a sheet {} no other is read for them", OPENINGS.sheet
            => "if they want blinds, move its rows to {0}, or rename {0}: then every sheet is searched", OPENINGS.sheet;
        OtherThings: Note, "table-of-other-things",
            "the table lists other things than doors and windows, so it is ignored"
            => "if its rows are openings, put the word windows or doors in the name of its sheet";
        OtherThing: Check, "row-of-another-thing", fills &CATEGORY,
            "the row names something other than a door or a window; it is treated as an opening"
            => "if it is not an opening, delete the row, or enter what it is under {}", CATEGORY.name;
        CountsUnused: Note, "counts-unused",
            "the counts in the list of types are ignored: the openings are listed one by one"
            => "nothing to do if every opening has its own row";
        FloorFromSheet: Note, "floor-from-sheet",
            "the sheet name is used as the floor of each row"
            => "add a column {} if the sheet names are not floors", FLOOR.name;
        OtherCategory: Note, "other-category",
            "rows are ignored: their category is neither door nor window"
            => "nothing to do, unless one of them needs a blind";
        UnknownCategory: Check, "unknown-category", fills &CATEGORY,
            "the category is not recognized as a door or a window; the row is treated as an opening"
            => "enter door, window or whatever it is under {}", CATEGORY.name;
        LostComponent: Check, "component-without-type",
            "a component is ignored because its type is not on the sheet Type; it may be a door or a window"
            => "correct its TypeName, or add the type to the sheet Type";
        SameKey: Stop, "same-key", fills &OPENING,
            "another row has the same building, unit and id"
            => "give each row its own id, or delete the duplicate";
        Repeated: Stop, "row-repeated", fills &OPENING,
            "another row has the same building, unit, id and sizes"
            => "an export may have repeated the row: delete one, or give each row its own id";
        CountedTypeAgain: Check, "counted-type-again",
            "a list of types with counts has a type in several rows; the openings of each row are counted"
            => "nothing to do if they are different openings; if a row repeats another, delete it";
        UnknownType: Check, "unknown-type", fills &TYPE,
            "the type is not in any list of types" => "correct the type, or add a row for it to the sheet {TYPES}";
        UnknownTypeWithoutSize: Stop, "unknown-type-without-size", fills &TYPE,
            "the type is not in any list of types, and the row has no size of its own"
            => "correct the type, or add a row for it to the sheet {TYPES}";
        SeveralTypes: Stop, "type-listed-twice",
            "the type is listed more than once" => "keep one row for each type";
        TypeWithoutName: Check, "type-without-name",
            "a row in a list of types has no type name, so no opening can use it" => "fill in its type";
        IdDisagrees: Check, "id-says-other-size",
            "the id gives a different size from the size columns"
            => "the size columns are used; correct whichever is wrong";
        TypeDisagrees: Check, "type-says-other-size",
            "the type gives a different size from the size columns"
            => "the size columns are used; correct whichever is wrong";
        // A note may as well speak of a pane or of furniture.
        NoteDisagrees: Note, "note-says-other-size",
            "the note gives a different size from the size columns"
            => "the size columns are used; correct whichever is wrong";
        PairDisagrees { column: &'static str }: Check, "pair-says-other-size",
            "{column} gives a different size from the width and height columns"
            => "the width and height columns are used; correct whichever is wrong";
        ThirdLength { column: &'static str }: Check, "third-length",
            "{column} has a third dimension, which is ignored"
            => "if it is the recess depth, enter it under {}", RECESS_DEPTH.name;
        OpensInward { column: &'static str }: Check, "opens-inward-in-words", fills &OPENS,
            "{column} says that it opens into the room, and {} is blank", OPENS.name
            => "enter in or tilt under {}, or how else it opens", OPENS.name;
        SeveralNamed: Check, "id-names-several", fills &QUANTITY,
            "the id names several openings, but the quantity does not match"
            => "enter how many there are under {}, or give each its own row", QUANTITY.name;
        Unwanted: Check, "blind-unwanted",
            "the note may mean that no blind is wanted; one is ordered anyway"
            => "delete the row if no blind is wanted";
        OneDiagonal: Note, "one-diagonal",
            "one diagonal alone does not show whether an opening is square"
            => "measure the other diagonal too, corner to corner";
        UnitNameOdd: Check, "unit-name-odd",
            "a unit's name breaks the pattern of the other units' names"
            => "correct it in every row of the unit; if it is right, there is nothing to do";
        OpeningMissing: Check, "opening-missing",
            "a unit lacks an opening that all units like it have"
            => "add it if it was left out; if it is not there, there is nothing to do";
        FloorCopied: Check, "floor-copied",
            "all sizes on a floor repeat another floor's, so they may be copied"
            => "measure the floor again; if its sizes were not measured, enter typical under {}", MEASURED.name;
        StandsOut { side: Side, among: Among, slip: Option<Slip>, column: &'static Column }:
            Check, "unlike-peers", fills column,
            "the {} does not match {}", side.word(), among.words()
            => "{}", slip.map_or_else(|| "measure again; if it is right, there is nothing to do".into(), Slip::hint);
    }
}

queries! {
    /// What is said of the sheet `Answers`.
    pub(super) enum AnswerQuery {
        Taken: Note, "answer-taken",
            "a value was taken from the sheet {}", ANSWERS.sheet
            => "once it is settled, enter it in {} and delete the answer", OPENINGS.sheet;
        NoHeadings: Check, "answers-without-headings",
            "the sheet {} has no headings {} and {}", ANSWERS.sheet, answers::COLUMN.name, answers::VALUE.name
            => "copy the whole sheet Queries, including its headings";
        UnknownOpening: Check, "answer-for-unknown-opening",
            "an answer names an opening that is not in the survey"
            => "use its name from the sheet Queries, or a cell of its row, such as Openings!A12";
        SeveralOpenings: Check, "answer-for-several",
            "an answer uses a name that more than one opening has"
            => "use its name from the sheet Queries, or a cell of its row, such as Openings!A12";
        ForOneOfSeveral { column: &'static Column }: Stop, "answer-for-one-of-several", fills column,
            "an answer for {} may be for this opening or for another of its name", column.name
            => "answer for each by its name on the sheet Queries";
        DateUnread: Check, "answer-date-unread",
            "the date of an answer cannot be read; the answer counts as undated"
            => "enter year, month and day, as in 2026-03-31";
        NoOpening: Check, "answer-for-no-opening",
            "an answer names no opening, and no openings are listed under its query"
            => "fill in {}", answers::OPENING.name;
        UnknownColumn: Check, "answer-for-unknown-column",
            "an answer names a column that the sheet {} cannot have", OPENINGS.sheet
            => "use the heading from a blank survey";
        OfProject: Check, "answer-for-project",
            "an answer is for an item of the sheet {}, which {} cannot change", PROJECT.sheet, ANSWERS.sheet
            => "enter it next to the item on the sheet {}", PROJECT.sheet;
        OnlyAccepted: Check, "answer-without-column",
            "no cell takes this answer: the query can only be accepted"
            => "answer ok to accept it, or do what the query says";
        Unreadable { column: &'static Column }: Check, "answer-unreadable", fills column,
            "an answer for {} cannot be read; the survey's own cell is used", column.name
            => "answer with a value for {}, or with ok to leave it as it is", column.name;
        Settled: Note, "answer-settled",
            "the survey says what was answered" => "nothing to do; the answer can be deleted";
        Replaced: Note, "answer-replaced",
            "a later answer is used in place of this one" => "nothing to do if the later one is right";
        ForNone: Note, "answer-for-none",
            "an answer for all openings is not used: each of them has one of its own"
            => "nothing to do if theirs are right";
        Changed { column: &'static str }: Stop, "answer-outdated",
            "{column} has changed in the survey since it was answered"
            => "delete the answer if the survey is right; otherwise correct the survey";
        AcceptedChanged: Check, "accepted-then-changed",
            "what was accepted has changed in the survey since"
            => "look at its query again, and delete this answer";
        UnknownMeaning: Check, "heading-meaning-unknown",
            "what a heading means cannot be read; the row is ignored"
            => "enter a column of the sheet {}, or {NOT_NEEDED}", OPENINGS.sheet;
        MeaningUnused: Check, "heading-meaning-unused",
            "no table has this heading, so the row says nothing"
            => "enter the heading as it is in the survey, and its sheet or none";
        MeaningsDiffer: Check, "heading-meanings-differ",
            "what is said of one heading differs"
            => "keep one row or answer for each heading, or date the answers";
        Differ { column: &'static str }: Stop, "answers-differ",
            "the answers for {column} differ" => "keep one answer for each opening and column, or date them";
    }
}
