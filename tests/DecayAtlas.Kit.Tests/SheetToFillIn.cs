using DocumentFormat.OpenXml.Packaging;
using DocumentFormat.OpenXml.Spreadsheet;
using DocumentFormat.OpenXml.Validation;

namespace DecayAtlas.Kit.Tests;

/// <summary>The workbook by what it holds; filled in, it is tried from the command line.</summary>
public class SheetToFillIn
{
    public static TheoryData<string> Languages => new(SenderWords.Known);

    [Theory, MemberData(nameof(Languages))]
    public void It_keeps_to_the_rules_of_its_format(string language)
    {
        using SpreadsheetDocument book = Open(ExampleKits.Of(language: language));

        Assert.Empty(new OpenXmlValidator().Validate(book, TestContext.Current.CancellationToken).Select(
            fault => $"{fault.Part?.Uri} {fault.Path?.XPath}: {fault.Description}"));
    }

    [Fact]
    public void Heads_and_numbers_of_holes_are_locked_and_what_is_to_fill_in_is_not()
    {
        using SpreadsheetDocument book = Open(ExampleKits.Of());
        WorkbookPart part = book.WorkbookPart!;
        Assert.True(part.Workbook!.WorkbookProtection!.LockStructure!.Value);
        Assert.All(part.WorksheetParts, sheet => Assert.True(sheet.Worksheet!.Elements<SheetProtection>().Single().Sheet!.Value));

        Worksheet holes = ((WorksheetPart)part.GetPartById("sheet3")).Worksheet!;
        CellFormat[] formats = [.. part.WorkbookStylesPart!.Stylesheet!.CellFormats!.Elements<CellFormat>()];
        Dictionary<string, bool> locked = holes.Descendants<Cell>().ToDictionary(cell => cell.CellReference!.Value!,
            cell => formats[cell.StyleIndex!.Value].Protection!.Locked!.Value);

        Assert.Equal(["A3", "A4", "A5", "A10", "L3"], new[] { "A3", "A4", "A5", "A10", "L3" }.Where(cell => locked[cell]));
        Assert.DoesNotContain(locked, cell => cell.Value && cell.Key[0] != 'A' && int.Parse(cell.Key[1..],
            System.Globalization.CultureInfo.InvariantCulture) > 4);
        Assert.Equal("101", holes.Descendants<Cell>().First(cell => cell.CellReference == "A5").CellValue!.Text);
    }

    [Fact]
    public void Days_masses_and_words_are_held_to_what_they_can_be()
    {
        using SpreadsheetDocument book = Open(ExampleKits.Of());
        Dictionary<string, DataValidation> rules = ((WorksheetPart)book.WorkbookPart!.GetPartById("sheet3")).Worksheet!
            .Descendants<DataValidation>().ToDictionary(rule => rule.SequenceOfReferences!.InnerText!);

        Assert.Equal(DataValidationValues.List, rules["B5:B10"].Type!.Value);
        Assert.Equal("'Places'!$A$5:$A$16", rules["B5:B10"].Formula1!.Text);
        Assert.Equal(DataValidationValues.Date, rules["C5:C10"].Type!.Value);
        // (3.2 + 0.64) g, ten times, rounded up
        Assert.Equal((DataValidationValues.Decimal, "0", "39"),
            (rules["E5:E10"].Type!.Value, rules["E5:E10"].Formula1!.Text, rules["E5:E10"].Formula2!.Text));
        Assert.Contains("without g", rules["E5:E10"].Error!.Value, StringComparison.Ordinal);
        Assert.Equal(DataValidationValues.List, rules["G5:G10"].Type!.Value);
        Assert.All(rules.Values, rule => Assert.True(rule.Error!.Value!.Length <= 255 && rule.ErrorTitle!.Value!.Length <= 32));
    }

    // Excel allows 31 letters and seven signs fewer in the name of a sheet, and 255 letters in a message.
    [Theory, MemberData(nameof(Languages))]
    public void Names_of_sheets_are_such_as_spreadsheets_take(string language)
    {
        using SpreadsheetDocument book = Open(ExampleKits.Of(language: language));
        string[] names = [.. book.WorkbookPart!.Workbook!.Descendants<Sheet>().Select(sheet => sheet.Name!.Value!)];

        Assert.All(names, name => Assert.Matches(@"^[^\[\]:*?/\\]{1,31}$", name));
        Assert.Equal(names.Length, names.Distinct(StringComparer.OrdinalIgnoreCase).Count());
        Assert.Equal(KitForm.Sheet, names[^1]);
    }

    private static SpreadsheetDocument Open(GroupKit kit) =>
        SpreadsheetDocument.Open(new MemoryStream(KitFolder.Content(kit, "sheet.xlsx")), isEditable: false);
}
