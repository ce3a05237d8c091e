using System.Globalization;
using System.IO.Compression;
using System.Text;
using DocumentFormat.OpenXml;
using DocumentFormat.OpenXml.Packaging;
using DocumentFormat.OpenXml.Spreadsheet;
using SheetText = DocumentFormat.OpenXml.Spreadsheet.Text;

namespace DecayAtlas.Kit.FillIn;

/// <summary>Writes a workbook to fill in (ECMA-376): what is no input is locked, without a password, and sheets keep their names and
/// places. The same sheets give the same bytes.</summary>
internal static class FormBook
{
    private const string BookContent = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml";

    private static readonly DateTimeOffset NoTime = new(1980, 1, 1, 0, 0, 0, TimeSpan.Zero);

    public static byte[] Write(IReadOnlyList<FormSheet> sheets, PaperSize paper)
    {
        using MemoryStream written = new();
        using (SpreadsheetDocument document = SpreadsheetDocument.Create(written, SpreadsheetDocumentType.Workbook))
        {
            // every part by a name of ours: the library's own are drawn at random
            WorkbookPart book = document.AddNewPart<WorkbookPart>(BookContent, "book");
            book.AddNewPart<WorkbookStylesPart>("styles").Stylesheet = FormStyles.Sheet();
            Sheets list = new();
            foreach ((int i, FormSheet sheet) in sheets.Index())
            {
                string id = Invariant($"sheet{i + 1}");
                WorksheetPart part = book.AddNewPart<WorksheetPart>(id);
                part.Worksheet = Of(sheet, paper);
                if (sheet.Notes.Count > 0)
                    AddNotes(part, sheet);
                list.Append(new DocumentFormat.OpenXml.Spreadsheet.Sheet
                {
                    Name = sheet.Name,
                    SheetId = (uint)i + 1,
                    Id = id,
                    State = sheet.IsHidden ? SheetStateValues.Hidden : null,
                });
            }

            book.Workbook = new Workbook(new WorkbookProtection { LockStructure = true }, new BookViews(new WorkbookView()), list);
        }

        return Timeless(written.ToArray());
    }

    /// <summary>A1 for column 0 and row 1.</summary>
    public static string At(int column, int row) => string.Create(CultureInfo.InvariantCulture, $"{(char)('A' + column)}{row}");

    /// <summary>A range of another sheet, as rules take it.</summary>
    public static string RangeOf(string sheet, int column, int first, int last) =>
        Invariant($"'{sheet.Replace("'", "''", StringComparison.Ordinal)}'!${(char)('A' + column)}${first}:${(char)('A' + column)}${last}");

    private static Worksheet Of(FormSheet sheet, PaperSize paper)
    {
        SheetView view = new() { WorkbookViewId = 0, ShowGridLines = false };
        if (sheet.FrozenRows > 0)
        {
            view.Append(new Pane
            {
                VerticalSplit = sheet.FrozenRows,
                TopLeftCell = At(0, sheet.FrozenRows + 1),
                ActivePane = PaneValues.BottomLeft,
                State = PaneStateValues.Frozen,
            });
        }

        Worksheet worksheet = new(
            new SheetProperties(new PageSetupProperties { FitToPage = true }),
            new SheetViews(view), new SheetFormatProperties { DefaultRowHeight = 18, CustomHeight = true },
            new Columns(sheet.Widths.Select((width, i) =>
                new Column { Min = (uint)i + 1, Max = (uint)i + 1, Width = width, CustomWidth = true })),
            new SheetData(sheet.Cells.GroupBy(cell => cell.Row).OrderBy(row => row.Key).Select(row => RowOf(sheet, row))),
            // columns may be made wider, and nothing else of what is locked
            new SheetProtection { Sheet = true, Objects = true, Scenarios = true, FormatColumns = false, FormatRows = false });
        if (sheet.Merged.Count > 0)
            worksheet.Append(new MergeCells(sheet.Merged.Select(range => new MergeCell { Reference = range })));
        if (sheet.Rules.Count > 0)
            worksheet.Append(new DataValidations(sheet.Rules.Select(Of)) { Count = (uint)sheet.Rules.Count });
        worksheet.Append(new PageMargins { Left = 0.5, Right = 0.5, Top = 0.5, Bottom = 0.5, Header = 0.3, Footer = 0.3 },
            new PageSetup
            {
                PaperSize = paper.Code,
                Orientation = sheet.IsLandscape ? OrientationValues.Landscape : OrientationValues.Portrait,
                FitToWidth = 1,
                FitToHeight = 0,
            });
        return worksheet;
    }

    private static Row RowOf(FormSheet sheet, IGrouping<int, FormCell> cells)
    {
        Row row = new(cells.OrderBy(cell => cell.Column).Select(Of)) { RowIndex = (uint)cells.Key };
        if (sheet.Heights.TryGetValue(cells.Key, out double height))
            (row.Height, row.CustomHeight) = (height, true);
        return row;
    }

    private static Cell Of(FormCell cell)
    {
        Cell made = new() { CellReference = At(cell.Column, cell.Row), StyleIndex = (uint)cell.Style };
        switch (cell.Value)
        {
            case string text:
                made.DataType = CellValues.InlineString;
                made.Append(new InlineString(new SheetText(text) { Space = SpaceProcessingModeValues.Preserve }));
                break;
            case DateOnly day:
                made.Append(new CellValue(SerialOf(day).ToString(CultureInfo.InvariantCulture)));
                break;
            case int or double:
                made.Append(new CellValue(Convert.ToString(cell.Value, CultureInfo.InvariantCulture)!));
                break;
        }

        return made;
    }

    /// <summary>The number of a day in workbooks.</summary>
    public static int SerialOf(DateOnly day) => day.DayNumber - new DateOnly(1899, 12, 30).DayNumber;

    private static DataValidation Of(EntryRule rule)
    {
        DataValidation validation = new(new Formula1(rule.First))
        {
            Type = rule.Kind switch
            {
                EntryKind.List => DataValidationValues.List,
                EntryKind.Day => DataValidationValues.Date,
                EntryKind.Whole => DataValidationValues.Whole,
                _ => DataValidationValues.Decimal,
            },
            AllowBlank = true,
            ShowErrorMessage = true,
            ErrorStyle = DataValidationErrorStyleValues.Stop,
            ErrorTitle = rule.WrongTitle,
            Error = rule.Wrong,
            SequenceOfReferences = new ListValue<StringValue>([new StringValue(rule.Range)]),
        };
        if (rule.Second is not null)
            validation.Append(new Formula2(rule.Second));
        return validation;
    }

    private static void AddNotes(WorksheetPart part, FormSheet sheet)
    {
        part.AddNewPart<WorksheetCommentsPart>("notes").Comments = new Comments(new Authors(new Author("")),
            new CommentList(sheet.Notes.Select(note => new Comment(new CommentText(new Run(new SheetText(note.Text))))
            { Reference = note.Cell, AuthorId = 0 })));
        using (StreamWriter drawing = new(part.AddNewPart<VmlDrawingPart>("drawing").GetStream(FileMode.Create), new UTF8Encoding(false)))
            drawing.Write(DrawingOf(sheet));
        part.Worksheet!.Append(new LegacyDrawing { Id = "drawing" });
    }

    // Boxes of notes are drawn in the older language of drawings; without them a spreadsheet shows no note.
    private static string DrawingOf(FormSheet sheet)
    {
        IEnumerable<string> boxes = sheet.Notes.Select((note, i) =>
        {
            (int column, int row) = (note.Cell[0] - 'A', int.Parse(note.Cell[1..], CultureInfo.InvariantCulture) - 1);
            return Invariant($"""
                <v:shape id="n{i}" type="#box" style="visibility:hidden" fillcolor="#ffffe1" o:insetmode="auto"><v:fill color2="#ffffe1"/>
                <v:textbox style="mso-direction-alt:auto"/><x:ClientData ObjectType="Note"><x:MoveWithCells/><x:SizeWithCells/>
                <x:Anchor>{column + 1}, 12, {row}, 4, {column + 3}, 40, {row + 6}, 4</x:Anchor><x:AutoFill>False</x:AutoFill>
                <x:Row>{row}</x:Row><x:Column>{column}</x:Column></x:ClientData></v:shape>
                """);
        });
        return $"""
            <xml xmlns:v="urn:schemas-microsoft-com:vml" xmlns:o="urn:schemas-microsoft-com:office:office"
            xmlns:x="urn:schemas-microsoft-com:office:excel"><v:shapetype id="box" coordsize="21600,21600" o:spt="202"
            path="m,l,21600r21600,l21600,xe"><v:stroke joinstyle="miter"/><v:path gradientshapeok="t" o:connecttype="rect"/></v:shapetype>
            {string.Concat(boxes)}</xml>
            """;
    }

    // The library writes into its archive when it was made.
    private static byte[] Timeless(byte[] package)
    {
        using MemoryStream made = new();
        using (ZipArchive from = new(new MemoryStream(package), ZipArchiveMode.Read))
        using (ZipArchive to = new(made, ZipArchiveMode.Create, leaveOpen: true))
        {
            // what says which part is what goes first, as readers of streams expect
            foreach (ZipArchiveEntry entry in from.Entries.OrderBy(e => e.FullName != "[Content_Types].xml")
                .ThenBy(e => e.FullName, StringComparer.Ordinal))
            {
                ZipArchiveEntry copy = to.CreateEntry(entry.FullName, CompressionLevel.Optimal);
                copy.LastWriteTime = NoTime;
                using Stream source = entry.Open(), target = copy.Open();
                source.CopyTo(target);
            }
        }

        return made.ToArray();
    }
}
