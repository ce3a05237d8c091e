using System.IO.Compression;
using System.Text;

namespace DecayAtlas.Contributions.Workbooks;

/// <summary>Gives columns of a sheet a width where they have none, which the format allows (ECMA-376 part 1, 18.3.1.13) and the library
/// that reads it does not.</summary>
internal static class ColumnWidths
{
    /// <summary>The workbook with a width of each column; the same bytes where nothing is lacking.</summary>
    /// <param name="bytes">A workbook that was found to be no larger than it may be.</param>
    public static MemoryStream Filled(MemoryStream bytes)
    {
        bytes.Position = 0;
        Dictionary<string, string> filled = [];
        using (ZipArchive archive = new(bytes, ZipArchiveMode.Read, leaveOpen: true))
        {
            foreach (ZipArchiveEntry part in archive.Entries.Where(part => part.FullName.Contains("worksheets/", StringComparison.Ordinal)
                && part.FullName.EndsWith(".xml", StringComparison.OrdinalIgnoreCase)))
            {
                using StreamReader reader = new(part.Open());
                string text = reader.ReadToEnd(), mended = WithWidths(text);
                if (!ReferenceEquals(text, mended))
                    filled[part.FullName] = mended;
            }
        }
        if (filled.Count == 0)
            return bytes;
        MemoryStream whole = new();
        bytes.Position = 0;
        bytes.CopyTo(whole);
        using (ZipArchive archive = new(whole, ZipArchiveMode.Update, leaveOpen: true))
        {
            foreach ((string name, string text) in filled)
            {
                archive.GetEntry(name)!.Delete();
                using StreamWriter writer = new(archive.CreateEntry(name).Open(), new UTF8Encoding(false));
                writer.Write(text);
            }
        }
        whole.Position = 0;
        return whole;
    }

    private static string WithWidths(string sheet)
    {
        // columns stand before the cells
        int end = sheet.IndexOf("sheetData", StringComparison.Ordinal), from = 0;
        StringBuilder? mended = null;
        for (int at = Next(0); at >= 0; at = Next(at + 1))
        {
            int close = sheet.IndexOf('>', at);
            if (close < 0)
                break;
            if (sheet.AsSpan(at, close - at).Contains(" width=", StringComparison.Ordinal))
                continue;
            mended ??= new StringBuilder(sheet.Length + 64);
            mended.Append(sheet, from, at - from).Append(" width=\"9\"");
            from = at;
        }
        return mended is null ? sheet : mended.Append(sheet, from, sheet.Length - from).ToString();

        // the place behind <col or <x:col
        int Next(int start)
        {
            while (end > 0 && start < end)
            {
                int at = sheet.IndexOf("col ", start, end - start, StringComparison.Ordinal);
                if (at < 0)
                    return -1;
                if (at > 0 && sheet[at - 1] is '<' or ':')
                    return at + 3;
                start = at + 1;
            }
            return -1;
        }
    }
}
