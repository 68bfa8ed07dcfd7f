//! Of what kind a figure is: what a schema says of its values.

/// One key of a row.
#[derive(Clone, Debug)]
pub struct Key {
    /// The key.
    pub name: &'static str,
    /// What it means.
    pub note: &'static str,
    /// What stands under it.
    pub kind: Kind,
}

/// What values a figure has.
#[derive(Clone, Debug, Default)]
pub struct Kind {
    /// Their types as JSON Schema names them; empty where `words` are all that there is.
    pub types: Vec<&'static str>,
    /// The words that there are, if there are no others.
    pub words: Vec<&'static str>,
    /// What a text looks like.
    pub pattern: Option<&'static str>,
    /// A number is at least this.
    pub least: Option<u64>,
    /// A number is above this.
    pub above: Option<u64>,
    /// A number is at most this.
    pub most: Option<u64>,
    /// Of what kind the values of a list are.
    pub each: Option<Box<Kind>>,
    /// How many a list has at the least.
    pub fewest: Option<u64>,
    /// What a row within the row is.
    pub note: &'static str,
    /// The keys of a row within the row.
    pub keys: Vec<Key>,
    /// Whether there may be no value.
    pub nullable: bool,
}

impl Kind {
    /// Values of one type.
    pub fn of(kind: &'static str) -> Kind {
        Kind { types: vec![kind], ..Kind::default() }
    }

    /// Whole numbers from 0 up.
    pub fn count() -> Kind {
        Kind { least: Some(0), ..Kind::of("integer") }
    }

    /// Some words and no others.
    pub fn words(words: &[&'static str]) -> Kind {
        Kind { words: words.to_vec(), ..Kind::default() }
    }

    /// Texts that look like this.
    pub fn like(pattern: &'static str) -> Kind {
        Kind { pattern: Some(pattern), ..Kind::of("string") }
    }

    /// Lists of such values.
    pub fn list(each: Kind) -> Kind {
        Kind { each: Some(Box::new(each)), ..Kind::of("array") }
    }

    /// These values, or none.
    pub fn or_null(self) -> Kind {
        Kind { nullable: true, ..self }
    }

    /// Whether the values are lists of rows, which CSV gives a file of their own.
    pub fn is_rows(&self) -> bool {
        self.each.as_ref().is_some_and(|each| !each.keys.is_empty())
    }

    /// The kind of a single value: that of a list's.
    pub(super) fn single(&mut self) -> &mut Kind {
        match self.each {
            Some(ref mut each) => each.single(),
            None => self,
        }
    }
}
