//! Records of the exchange file: numbered entities and what stands in their brackets.

use crate::write::number::push_fixed;

/// Number of an entity.
pub(super) type Ref = usize;

/// What stands between an entity's brackets.
pub(super) enum Value<'a> {
    /// In quotes.
    Text(&'a str),
    /// A number, with so many decimals.
    Real(f64, usize),
    /// A whole number.
    Whole(usize),
    /// Three numbers, with so many decimals.
    Reals([f64; 3], usize),
    /// Another entity.
    Of(Ref),
    /// A list of entities.
    All(&'a [Ref]),
    /// True or false.
    Flag(bool),
    /// `*`: worked out from another value.
    Derived,
    /// `$`: not given.
    None,
}

/// The entities so far.
pub(super) struct Records {
    bytes: Vec<u8>,
    count: usize,
}

impl Records {
    /// None yet, behind a head.
    pub(super) fn behind(head: Vec<u8>) -> Self {
        Self { bytes: head, count: 0 }
    }

    /// Adds an entity.
    pub(super) fn add(&mut self, entity: &str, values: &[Value]) -> Ref {
        self.begin();
        self.bytes.extend_from_slice(entity.as_bytes());
        self.bytes.push(b'(');
        for (i, value) in values.iter().enumerate() {
            if 0 < i {
                self.bytes.push(b',');
            }
            push(&mut self.bytes, value);
        }
        self.end(b")")
    }

    /// Adds an entity of several types at once, written out.
    pub(super) fn add_whole(&mut self, text: &str) -> Ref {
        self.begin();
        self.end(text.as_bytes())
    }

    fn begin(&mut self) {
        self.count += 1;
        self.bytes.push(b'#');
        push_whole(&mut self.bytes, self.count);
        self.bytes.push(b'=');
    }

    fn end(&mut self, rest: &[u8]) -> Ref {
        self.bytes.extend_from_slice(rest);
        self.bytes.extend_from_slice(b";\n");
        self.count
    }

    /// The whole file.
    pub(super) fn bytes(mut self) -> Vec<u8> {
        self.bytes.extend_from_slice(b"ENDSEC;\nEND-ISO-10303-21;\n");
        self.bytes
    }
}

fn push(bytes: &mut Vec<u8>, value: &Value) {
    match value {
        Value::Text(text) => push_text(bytes, text),
        Value::Real(value, decimals) => push_real(bytes, *value, *decimals),
        Value::Whole(number) => push_whole(bytes, *number),
        Value::Reals(values, decimals) => {
            let values = values.iter();
            list(bytes, values, |bytes, value| push_real(bytes, *value, *decimals));
        }
        Value::Of(of) => push_ref(bytes, *of),
        Value::All(all) => list(bytes, all.iter(), |bytes, of| push_ref(bytes, *of)),
        Value::Flag(flag) => bytes.extend_from_slice(if *flag { b".T." } else { b".F." }),
        Value::Derived => bytes.push(b'*'),
        Value::None => bytes.push(b'$'),
    }
}

fn list<T>(bytes: &mut Vec<u8>, all: impl Iterator<Item = T>, put: impl Fn(&mut Vec<u8>, T)) {
    bytes.push(b'(');
    for (i, one) in all.enumerate() {
        if 0 < i {
            bytes.push(b',');
        }
        put(bytes, one);
    }
    bytes.push(b')');
}

fn push_ref(bytes: &mut Vec<u8>, of: Ref) {
    bytes.push(b'#');
    push_whole(bytes, of);
}

fn push_whole(bytes: &mut Vec<u8>, number: usize) {
    push_fixed(bytes, number as f64, 0);
}

/// A number of this format always has a point.
fn push_real(bytes: &mut Vec<u8>, value: f64, decimals: usize) {
    let start = bytes.len();
    push_fixed(bytes, value, decimals);
    if !bytes[start..].contains(&b'.') {
        bytes.push(b'.');
    }
}

/// A text in quotes; what is not plain ASCII in hexadecimal, as the format has it.
pub(super) fn push_text(bytes: &mut Vec<u8>, text: &str) {
    bytes.push(b'\'');
    for letter in text.chars() {
        match letter {
            '\'' | '\\' => bytes.extend([letter as u8; 2]),
            ' '..='~' => bytes.push(letter as u8),
            _ if letter <= '\u{FFFF}' => {
                bytes.extend(format!("\\X2\\{:04X}\\X0\\", letter as u32).bytes());
            }
            _ => bytes.extend(format!("\\X4\\{:08X}\\X0\\", letter as u32).bytes()),
        }
    }
    bytes.push(b'\'');
}
