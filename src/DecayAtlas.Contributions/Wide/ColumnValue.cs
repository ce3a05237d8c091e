namespace DecayAtlas.Contributions.Wide;

/// <summary>Turns one cell of a wide table into the text that the field has in a data package: words, decimal sign, unit, order of dates,
/// degrees.</summary>
internal static class ColumnValue
{
    public static (string Text, Finding? Fault) Of(FieldSource source, SheetCell cell, WideForm form, bool isDate1904)
    {
        FieldSchema field = source.Field;
        // before anything else looks at it; a word of the file may be longer than the word of the schema that it stands for
        if (cell.Text.Length > FieldSchema.LongestOfAll)
            return ("", CellCheck.TooLong(field.Name, cell.Text.Length, FieldSchema.LongestOfAll));
        string text = cell.Text.Trim();
        if (cell.Kind == SheetCellKind.Text && (text.Length == 0 || form.EmptyWords.Contains(text)))
            return ("", null);
        if (cell.Kind is SheetCellKind.Text or SheetCellKind.Number or SheetCellKind.YesNo or SheetCellKind.Date
            && source.Words.TryGetValue(text, out string? word))
        {
            return (word, null);
        }
        switch (source.Form)
        {
            case SourceForm.Listed:
                return ("", null);
            case SourceForm.Beside:
                return (cell.Kind == SheetCellKind.Text ? WrittenNumber.Of(text)?.Beside ?? "" : "", null);
            case SourceForm.Id:
                return (Identifier.Of(text), null);
            case SourceForm.Comment or SourceForm.Fill when source.Words.Count > 0:
                return ("", null);
        }
        return (cell.Kind, field.Type) switch
        {
            (SheetCellKind.Text, FieldType.Date) =>
                StatedDate.Read(field, text, source.DateOrder == DateOrder.Unstated ? form.DateOrder : source.DateOrder, source.Year,
                    source.Century),
            (SheetCellKind.Text, FieldType.Number or FieldType.WholeNumber) => Number(source, text, form),
            (SheetCellKind.Number, FieldType.Number or FieldType.WholeNumber) => (InUnit(source, text, source.Unit), null),
            (SheetCellKind.Text, _) => (text, null),
            (SheetCellKind.Number, FieldType.Date)
                when source.DateOrder == DateOrder.Serial1904 => SheetValue.Of(field, cell, isDate1904: true),
            _ => SheetValue.Of(field, cell, isDate1904),
        };
    }

    private static (string Text, Finding? Fault) Number(FieldSource source, string text, WideForm form)
    {
        string plain = text.Replace('\u2212', '-');
        if (source.DecimalSign is { } sign)
        {
            WrittenNumber? written = source.IsWritten ? WrittenNumber.Of(plain) : new WrittenNumber(plain, null, "");
            return written is not null && WrittenNumber.Plain(written.Digits, sign, source.Thousands) is { } number
                ? (InUnit(source, number, written.Unit ?? source.Unit), null)
                : (text, null);   // the check of the cell tells that it is no number
        }
        if (plain.Contains(form.IsDecimalComma ? '.' : ',', StringComparison.Ordinal))
        {
            return ("", source.Field.Fault(FindingCode.DecimalSignOther, FindingText.Quote(text),
                form.IsDecimalComma ? "a number with a decimal comma, as the mapping states"
                : "a number with a decimal point, as the mapping does not state another sign",
                form.IsDecimalComma ? "write it with a decimal comma and without points, or correct decimal_sign in the mapping"
                    : "write it with a decimal point, or state decimal_sign: comma in the mapping if the whole file is written so"));
        }
        if (form.IsDecimalComma)
            plain = plain.Replace(',', '.');
        return source.Form == SourceForm.Degrees ? Degrees.Read(source.Field, plain) : (InUnit(source, plain, source.Unit), null);
    }

    // The number in the unit of the field; what is no number stays as it is, for the check of the cell to tell.
    private static string InUnit(FieldSource source, string number, string? unit) => unit is null ? number
        : source.IsShare && unit is "percent" or "fraction" ? Units.Convert(number, unit, Share) ?? number
        : Units.Convert(number, unit, source.Field) ?? number;

    // a share is no field of its own
    private static FieldSchema Share { get; } = SchemaCatalogue.Lots.Fields[SchemaCatalogue.Lots.OrdinalOf("ash_fraction")];
}
