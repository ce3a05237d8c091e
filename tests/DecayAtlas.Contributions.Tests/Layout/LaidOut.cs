using System.IO.Compression;
using System.Text;

namespace DecayAtlas.Contributions.Tests.Layout;

/// <summary>Lays out files that tests write.</summary>
internal static class LaidOut
{
    public static TidyTable Of(string csv, params (string Question, string Answer)[] answers) => Of(Encoding.UTF8.GetBytes(csv), answers);

    public static TidyTable Of(byte[] bytes, params (string Question, string Answer)[] answers)
    {
        (TidyTable? table, IReadOnlyList<Finding> findings) = Try(bytes, LayoutWishes.None with
        {
            Answers = answers.ToDictionary(answer => answer.Question, answer => answer.Answer),
        });
        Assert.Empty(findings);
        return table!;
    }

    public static (TidyTable? Table, IReadOnlyList<Finding> Findings) Try(byte[] bytes, LayoutWishes? wishes = null,
        IntakeLimits? limits = null)
    {
        FindingList findings = new(new ReadingTime(60, TimeProvider.System));
        PackageFile file = new("a.any", () => new MemoryStream(bytes), bytes.Length, null);
        TidyTable? table = TableLayout.Of([file], wishes ?? LayoutWishes.None, SenderWords.Find("en"), limits ?? IntakeLimits.Default,
            findings);
        Assert.True(table is null != (findings.Count == 0));
        return (table, findings.Close("a.any"));
    }

    public static string[] Names(this TidyTable table) => [.. table.Columns.Select(column => column.Name)];

    public static string[] Column(this TidyTable table, string name)
    {
        int at = Array.IndexOf(table.Names(), name);
        Assert.True(at >= 0, $"There is no column {name}, but {string.Join(", ", table.Names())}.");
        return [.. table.Rows.Select(row => row[at].Value.Text)];
    }

    public static int ToldOf(this TidyTable table, string code) =>
        table.Told.Where(told => told.Code == "layout-" + code).Sum(told => told.Count);

    public static byte[] Zip(params (string Name, string Text)[] parts)
    {
        using MemoryStream bytes = new();
        using (ZipArchive zip = new(bytes, ZipArchiveMode.Create, leaveOpen: true))
        {
            foreach ((string name, string text) in parts)
            {
                using Stream part = zip.CreateEntry(name).Open();
                part.Write(Encoding.UTF8.GetBytes(text));
            }
        }
        return bytes.ToArray();
    }

    /// <summary>An OpenDocument spreadsheet with one sheet (ISO/IEC 26300-1, 9.1).</summary>
    public static byte[] Ods(string rows, string styles = "") => Zip(("mimetype", "application/vnd.oasis.opendocument.spreadsheet"),
        ("content.xml", "<office:document-content xmlns:office=\"urn:oasis:names:tc:opendocument:xmlns:office:1.0\" "
            + "xmlns:table=\"urn:oasis:names:tc:opendocument:xmlns:table:1.0\" xmlns:text=\"urn:oasis:names:tc:opendocument:xmlns:text:1.0\" "
            + "xmlns:style=\"urn:oasis:names:tc:opendocument:xmlns:style:1.0\" "
            + "xmlns:fo=\"urn:oasis:names:tc:opendocument:xmlns:xsl-fo-compatible:1.0\">"
            + $"<office:automatic-styles>{styles}</office:automatic-styles>"
            + $"<office:body><office:spreadsheet><table:table table:name=\"Data\">{rows}</table:table></office:spreadsheet></office:body>"
            + "</office:document-content>"));
}
