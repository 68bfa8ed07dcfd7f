//! Work is counted, never timed, so that every machine finds the same plan.

/// Steps that may still be taken. One step is about one visit of a number in memory: some
/// thousand million of them take a second.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Work(pub u64);

impl Work {
    /// Enough for one plan: a few seconds where the bound cannot be met, far less otherwise.
    pub const FOR_A_PLAN: Work = Work(2_500_000_000);

    /// Takes up to `steps` out of this work, as work of its own.
    pub(super) fn portion(&mut self, steps: u64) -> Work {
        let portion = steps.min(self.0);
        self.0 -= portion;
        Work(portion)
    }

    /// Puts back what was not used.
    pub(super) fn give_back(&mut self, rest: Work) {
        self.0 += rest.0;
    }

    pub(super) fn spend(&mut self, steps: u64) {
        self.0 = self.0.saturating_sub(steps);
    }

    pub(super) fn is_spent(self) -> bool {
        self.0 == 0
    }
}
