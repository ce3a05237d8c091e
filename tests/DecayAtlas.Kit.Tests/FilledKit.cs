using DocumentFormat.OpenXml.Packaging;
using DocumentFormat.OpenXml.Spreadsheet;
using CellText = DocumentFormat.OpenXml.Spreadsheet.Text;

namespace DecayAtlas.Kit.Tests;

/// <summary>A kit's workbook with cells that somebody filled in, on a disk of its own.</summary>
internal sealed class FilledKit : IDisposable
{
    private const string Places = "sheet2", Holes = "sheet3", About = "sheet4";

    private readonly string _folder = Directory.CreateTempSubdirectory("decayatlas-kit-").FullName;
    private readonly Dictionary<(string Sheet, string Cell), object> _cells = [];
    private readonly GroupKit _kit;

    public FilledKit(string language, Campaign? campaign = null)
    {
        _kit = campaign is null ? ExampleKits.Of(language: language)
            : GroupKit.Of(campaign, "campaign.yaml", PaperSize.A4, "moss-watchers", language).Single();
        Place("A5", "Bachufer").Place("B5", 53.31025).Place("C5", -7.51);
        Hole("B5", "Bachufer").Hole("C5", "2027-04-14").Hole("D5", "2027-07-10").Hole("E5", 3.84).Hole("F5", 1.92).Hole("H5", 4.74)
            .Hole("I5", 3.90);
    }

    public string File => Path.Combine(_folder, "sheet.xlsx");

    public FilledKit Place(string cell, object value) => With(Places, cell, value);

    public FilledKit Hole(string cell, object value) => With(Holes, cell, value);

    public FilledKit AboutUs(string cell, object value) => With(About, cell, value);

    public ReadResult Read()
    {
        System.IO.File.WriteAllBytes(File, KitFolder.Content(_kit, "sheet.xlsx"));
        using (SpreadsheetDocument book = SpreadsheetDocument.Open(File, isEditable: true))
        {
            foreach (((string sheet, string at), object value) in _cells)
            {
                Cell cell = ((WorksheetPart)book.WorkbookPart!.GetPartById(sheet)).Worksheet!.Descendants<Cell>()
                    .First(c => c.CellReference == at);
                cell.RemoveAllChildren();
                cell.DataType = value is string ? CellValues.InlineString : null;
                if (value is string text)
                    cell.Append(new InlineString(new CellText(text)));
                else
                    cell.Append(new CellValue(Convert.ToString(value, System.Globalization.CultureInfo.InvariantCulture)!));
            }
        }

        return ContributionReader.Read(File, IntakeLimits.Default);
    }

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    private FilledKit With(string sheet, string cell, object value)
    {
        _cells[(sheet, cell)] = value;
        return this;
    }
}
