using System.Diagnostics;
using System.IO.Compression;
using System.Text;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;

namespace DecayAtlas.Contributions.Tests.Layout;

/// <summary>Damaged files of every kind get a table or findings, never an exception, in bounded time.</summary>
public class DamagedSheets
{
    private const string Cells = "<table:table-row><table:table-cell office:value-type=\"string\" table:number-columns-spanned=\"2\"><text:p>bag"
        + "</text:p></table:table-cell><table:covered-table-cell/><table:table-cell office:value-type=\"string\"><text:p>mass</text:p>"
        + "</table:table-cell></table:table-row><table:table-row table:number-rows-repeated=\"2\"><table:table-cell "
        + "office:value-type=\"float\" office:value=\"2\" table:number-columns-repeated=\"3\"/></table:table-row>";

    private const string Page = "<html><body><p>Bags</p><table><tr><th colspan=2>bag</th><th>mass</th></tr><tr bgcolor=\"#ff0000\">"
        + "<td rowspan=2>1</td><td>B1</td><td>2,4</td></tr><tr><td>B2</td><td>2,6</td></tr></table></body></html>";

    private static readonly IntakeLimits Small = IntakeLimits.Default with { MaxSpreadsheetBytes = 1 << 20 };
    private static readonly byte[] Workbook = XlsxMaker.Example().ToBytes();

    [Property(MaxTest = 150)]
    public Property A_damaged_page_gets_an_answer() => Survives(Encoding.UTF8.GetBytes(Page));

    [Property(MaxTest = 100)]
    public Property A_damaged_OpenDocument_file_gets_an_answer() => Survives(LaidOut.Ods(Cells));

    [Property(MaxTest = 150)]
    public Property Damaged_XML_in_a_whole_OpenDocument_file_gets_an_answer() => Prop.ForAll(FuzzTests.Damages, damage =>
    {
        using ZipArchive zip = new(new MemoryStream(LaidOut.Ods(Cells)));
        using StreamReader reader = new(zip.GetEntry("content.xml")!.Open());
        byte[] damaged = FuzzTests.Damaged(Encoding.UTF8.GetBytes(reader.ReadToEnd()), damage.Seed, damage.Damages);
        Answers(LaidOut.Zip(("content.xml", Encoding.UTF8.GetString(damaged))));
    });

    [Property(MaxTest = 100)]
    public Property A_damaged_workbook_gets_an_answer() => Survives(Workbook);

    [Property(MaxTest = 200)]
    public Property A_damaged_text_gets_an_answer() => Survives("Titel;;\nbag;site;mass\n1;Mire;2,4\n\";Mire;2,6\nSumme;;5\n"u8.ToArray());

    [Property(MaxTest = 300)]
    public Property A_damaged_old_workbook_gets_an_answer() => Survives(OldWorkbookMaker.Bytes);

    [Property(MaxTest = 100)]
    public Property Any_bytes_at_all_get_an_answer() => Prop.ForAll(ArbMap.Default.ArbFor<byte[]>(), bytes =>
    {
        Answers(bytes);
        Answers([0xD0, 0xCF, 0x11, 0xE0, .. bytes]);
        Answers([.. "<table>"u8, .. bytes]);
    });

    /// <summary>A few bytes that ask for much: repeated rows, spans over everything, thousands of marks that are never closed.</summary>
    [Theory]
    [InlineData("ods-rows")]
    [InlineData("ods-spans")]
    [InlineData("html-spans")]
    [InlineData("html-open")]
    [InlineData("csv-quotes")]
    [InlineData("csv-tables")]
    public void What_asks_for_much_is_bounded(string kind)
    {
        byte[] bytes = kind switch
        {
            "ods-rows" => LaidOut.Ods(string.Concat(Enumerable.Repeat("<table:table-row table:number-rows-repeated=\"1000000\"><table:table-cell "
                + "office:value-type=\"float\" office:value=\"1\" table:number-columns-repeated=\"500\"/></table:table-row>", 50))),
            "ods-spans" => LaidOut.Ods(string.Concat(Enumerable.Repeat("<table:table-row><table:table-cell office:value-type=\"string\" "
                + "table:number-columns-spanned=\"16384\" table:number-rows-spanned=\"1048576\"><text:p>a</text:p></table:table-cell>"
                + "</table:table-row>", 3000))),
            "html-spans" => Encoding.UTF8.GetBytes("<table>" + string.Concat(Enumerable.Repeat("<tr><td colspan=500 rowspan=60000>1",
                2000))),
            "html-open" => Encoding.UTF8.GetBytes("<table>" + string.Concat(Enumerable.Repeat("<td a=\"<!--<table><tr>", 20_000))),
            "csv-quotes" => Encoding.UTF8.GetBytes("a;b\n" + string.Concat(Enumerable.Repeat("\"x", 100_000))),
            _ => Encoding.UTF8.GetBytes(string.Concat(Enumerable.Range(0, 5000).Select(i => $"bag{i};mass{i};x{i}\n1;2;3\n\n"))),
        };
        Answers(bytes, seconds: 40);
    }

    /// <summary>One byte of an old workbook may say that a sheet has two thousand million rows (MS-XLS, 2.4.90: at most 65,536), or that
    /// a sector is half a gigabyte long (MS-CFB, 2.2: 512 or 4096 bytes).</summary>
    [Theory]
    [InlineData("rows")]
    [InlineData("sectors")]
    public void An_old_workbook_that_claims_what_none_can_have_is_refused_at_once(string claim)
    {
        byte[] bytes = OldWorkbookMaker.Bytes;
        if (claim == "rows")
            bytes[bytes.AsSpan().IndexOf<byte>([0, 2, 14, 0]) + 4 + 7] = 0x7F;
        else
            bytes[30] = 29;
        long begun = Stopwatch.GetTimestamp();
        (TidyTable? table, IReadOnlyList<Finding> findings) = LaidOut.Try(bytes);
        Assert.Null(table);
        Assert.Equal([FindingCode.WorkbookBroken], findings.Select(finding => finding.Code));
        Assert.True(Stopwatch.GetElapsedTime(begun) < TimeSpan.FromSeconds(5));
    }

    private static Property Survives(byte[] good) =>
        Prop.ForAll(FuzzTests.Damages, damage => Answers(FuzzTests.Damaged(good, damage.Seed, damage.Damages)));

    private static void Answers(byte[] bytes, int seconds = 20)
    {
        long begun = Stopwatch.GetTimestamp();
        try
        {
            (TidyTable? table, IReadOnlyList<Finding> findings) = LaidOut.Try(bytes, null, Small);
            Assert.All(findings, finding => Assert.True(finding.Found.Length > 0 && finding.Expected.Length > 0
                && finding.Mend.Length > 0));
            if (table is not null)
                Assert.All(table.Rows, row => Assert.Equal(table.Columns.Count, row.Count));
        }
        catch (ReadingTimeOverException)
        {
            // told as such by who reads a contribution
        }
        Assert.True(Stopwatch.GetElapsedTime(begun) < TimeSpan.FromSeconds(seconds), $"It took longer than {seconds} s.");
    }
}
