//! What is asked of blinds that were ordered before.

use crate::query::{Entry, queries};

/// Every query of this room.
pub(crate) const QUERIES: &[&[Entry]] = &[FrozenQuery::ENTRIES];

queries! {
    /// A doubt about a blind that was ordered before.
    pub(crate) enum FrozenQuery {
        Gone: Stop, "ordered-opening-gone",
            "a blind is ordered for an opening that the survey no longer has"
            => "on its row of Blinds: move under Do and where to under Goes to, or cancelled under State";
        NoId: Stop, "ordered-without-id",
            "a blind is ordered for an opening without an id, so it cannot be known again"
            => "give the opening an id in the survey, and enter the same under Id on Blinds";
        OtherOpening: Stop, "ordered-for-another-opening",
            "a blind is ordered under this id, but the room or the kind of opening was another"
            => "correct the id, or enter use as it is under Do on its row of Blinds";
        MaybeSame: Stop, "maybe-the-same-opening",
            "it may be the opening of a blind that is ordered under another name, so none is ordered for it"
            => "on that row of Blinds: move under Do, and this opening or store under Goes to";
        CancelledAndWanted: Check, "cancelled-and-wanted",
            "a blind was cancelled, but its opening is still in the survey and gets another"
            => "take the opening out of the survey if it wants no blind";
        NotOrdered: Check, "do-before-ordered",
            "an order, a day or what to do is typed beside a blind without a State, so it is not taken for ordered"
            => "enter how far it has come under State, or clear it";
        TooMany: Stop, "ordered-too-many",
            "more blinds are ordered for the opening than it has room for"
            => "on a row of Blinds: move under Do and where to under Goes to, or cancelled under State";
        Differs: Stop, "ordered-differs",
            "the blind that is ordered is not the one that the survey asks for now"
            => "on its row of Blinds, enter under Do: use as it is, make again, or move";
        SizeNoLongerFits: Stop, "ordered-size-no-longer-fits",
            "the size that is ordered would not be taken for this opening any more"
            => "on its row of Blinds, enter under Do: use as it is, make again, or move";
        FittedDiffers: Check, "fitted-differs",
            "the blind that hangs is not the one that the survey asks for now"
            => "look at it on site; to replace it, enter make again under Do on its row of Blinds";
        UsedAsItIs: Note, "ordered-used-as-it-is",
            "a blind that no longer fits is used as it is"
            => "see what differs, and change Do on its row of Blinds if that is not wanted";
        AgainNowhere: Check, "remake-without-opening",
            "a blind is wanted again, but its opening is gone or has its blinds, so none is ordered"
            => "correct the opening in the survey, or Goes to on the blind's row of Blinds";
        GoesNowhere: Stop, "ordered-goes-nowhere",
            "Goes to on Blinds names no opening of the survey"
            => "enter an opening as it is shown, such as 0304/W1, or store";
        TypedWithoutBlind: Check, "typed-without-blind",
            "something is typed on Blinds beside a blind that is no longer there"
            => "it is not carried on: enter it beside another blind if it still matters";
        BoxLacks: Check, "ordered-brackets-differ",
            "the brackets that are ordered with the blind are not those that it needs now"
            => "bring the brackets that it lacks: the hardware list counts those that are needed now";
        StockOrdered: Check, "stock-ordered-before",
            "blinds that are ordered already come off the number on hand of their stock size"
            => "if On hand was counted after that order, add them to it";
        StockShort: Stop, "ordered-stock-short",
            "some of the row's blinds are ordered from a stock size, and too few are left for the others"
            => "correct On hand in Stock sizes, or give the other openings a row of their own";
        StockNoLongerListed: Check, "stock-no-longer-listed",
            "a blind is ordered from a stock size that the rules no longer list"
            => "list it under Stock sizes again, with 0 on hand if there are no more";
    }
}
