//! A small `.xls`, written after [MS-XLS] (BIFF8) and [MS-CFB]: one sheet of numbers and texts.

/// What a cell holds.
pub(crate) enum Cell {
    Number(f64),
    Text(&'static str),
    /// A failed formula, by its code: 7 is `#DIV/0!` ([MS-XLS] 2.5.10).
    Error(u8),
}

fn record(out: &mut Vec<u8>, kind: u16, data: &[u8]) {
    out.extend(kind.to_le_bytes());
    out.extend((data.len() as u16).to_le_bytes());
    out.extend(data);
}

fn words(values: &[u16]) -> Vec<u8> {
    values.iter().flat_map(|value| value.to_le_bytes()).collect()
}

fn stream(sheet: &str, cells: &[(u16, u16, Cell)], merged: &[[u16; 4]]) -> Vec<u8> {
    let mut out = Vec::new();
    // BOF of the workbook, code page, one sheet, end
    record(&mut out, 0x0809, &words(&[0x0600, 0x0005, 0, 0, 0, 0, 0, 0]));
    record(&mut out, 0x0042, &words(&[1_200]));
    let mut bound = vec![0; 6];
    bound.extend([sheet.len() as u8, 0]);
    bound.extend(sheet.bytes());
    let place = out.len() + 4;
    record(&mut out, 0x0085, &bound);
    record(&mut out, 0x000A, &[]);
    let start = (out.len() as u32).to_le_bytes();
    out[place..place + 4].copy_from_slice(&start);
    record(&mut out, 0x0809, &words(&[0x0600, 0x0010, 0, 0, 0, 0, 0, 0]));
    let rows = cells.iter().map(|(row, _, _)| row + 1).max().unwrap_or(0);
    let columns = cells.iter().map(|(_, column, _)| column + 1).max().unwrap_or(0);
    record(&mut out, 0x0200, &words(&[0, 0, rows, 0, 0, columns, 0]));
    for (row, column, cell) in cells {
        let mut data = words(&[*row, *column, 0]);
        match cell {
            Cell::Number(value) => {
                data.extend(value.to_le_bytes());
                record(&mut out, 0x0203, &data);
            }
            Cell::Text(text) => {
                let wide: Vec<u16> = text.encode_utf16().collect();
                data.extend(words(&[wide.len() as u16]));
                data.push(1);
                data.extend(words(&wide));
                record(&mut out, 0x0204, &data);
            }
            Cell::Error(code) => {
                data.extend([*code, 1]);
                record(&mut out, 0x0205, &data);
            }
        }
    }
    if !merged.is_empty() {
        let mut data = words(&[merged.len() as u16]);
        data.extend(merged.iter().flat_map(|range| words(range)));
        record(&mut out, 0x00E5, &data);
    }
    record(&mut out, 0x000A, &[]);
    // shorter streams would live elsewhere ([MS-CFB] 2.4)
    out.resize(out.len().max(4_096).next_multiple_of(512), 0);
    out
}

fn entry(name: &str, kind: u8, child: u32, start: u32, size: u32) -> Vec<u8> {
    let mut entry: Vec<u8> = name.encode_utf16().flat_map(u16::to_le_bytes).collect();
    let length = entry.len() as u16 + 2;
    entry.resize(64, 0);
    entry.extend(length.to_le_bytes());
    entry.extend([kind, 1]);
    for link in [u32::MAX, u32::MAX, child] {
        entry.extend(link.to_le_bytes());
    }
    entry.resize(116, 0);
    entry.extend(start.to_le_bytes());
    entry.extend(size.to_le_bytes());
    entry.resize(128, 0);
    entry
}

/// The file.
pub(crate) fn write(sheet: &str, cells: &[(u16, u16, Cell)], merged: &[[u16; 4]]) -> Vec<u8> {
    const END: u32 = 0xFFFF_FFFE;
    let stream = stream(sheet, cells, merged);
    let sectors = stream.len() / 512;
    let mut out = b"\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1".to_vec();
    out.resize(24, 0);
    out.extend(words(&[0x003E, 0x0003, 0xFFFE, 9, 6, 0, 0, 0]));
    // number of directory and FAT sectors, first of the directory, then the rest of the header
    for value in [0, 1, 1, 0, 4_096, END, 0, END, 0, 0] {
        out.extend(value.to_le_bytes());
    }
    out.resize(512, 0xFF);
    let mut fat = vec![0xFFFF_FFFD_u32, END];
    fat.extend((0..sectors).map(|n| if n + 1 == sectors { END } else { n as u32 + 3 }));
    fat.resize(128, u32::MAX);
    out.extend(fat.iter().flat_map(|value| value.to_le_bytes()));
    out.extend(entry("Root Entry", 5, 1, END, 0));
    out.extend(entry("Workbook", 2, u32::MAX, 2, stream.len() as u32));
    out.resize(512 * 3, 0);
    out.extend(stream);
    out
}
