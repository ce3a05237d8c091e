using System.Globalization;
using System.IO.Compression;
using System.Text;
using System.Text.RegularExpressions;

namespace DecayAtlas.EndToEnd;

/// <summary>A file of a contribution that is still to be written.</summary>
internal sealed class MutableFile(string name, byte[] bytes)
{
    public string Name { get; set; } = name;

    public byte[] Bytes { get; set; } = bytes;

    /// <summary>The bytes as letters, one each, so that what is not touched stays as it is, whatever its encoding.</summary>
    public string Text
    {
        get => Encoding.Latin1.GetString(Bytes);
        set => Bytes = Encoding.Latin1.GetBytes(value);
    }

    /// <summary>Text as UTF-8, for <see cref="Text"/>.</summary>
    public static string Utf8(string text) => Encoding.Latin1.GetString(Encoding.UTF8.GetBytes(text));
}

/// <summary>One thing that goes wrong with the files of a contribution on their way, or that somebody does to them on purpose.</summary>
internal static partial class Mutation
{
    // a lone surrogate can be written in bytes and in JSON only
    private const string LoneSurrogate = "\u00ED\u00A0\u0080";

    private static readonly string[] OddValues =
    [
        "1e400", "-1e400", "-1", "-0", "0", "NaN", "Infinity", "99999999999999999999", "1e-320", "0x10", MutableFile.Utf8("１２"), "1,5", "",
        " ", "null", "true",
        "2024-02-30", "9999-12-31", "0001-01-01", "31.02.2024", "=1+1", "\0", LoneSurrogate, "\"", "'", "<script>", "../../x",
        MutableFile.Utf8("\u202E\u200B"), "\t", "\r",
        new('a', 5_000), new('9', 400), MutableFile.Utf8("e" + new string('\u0301', 300)), "{0}", "%s", "$(x)",
    ];

    private static readonly string[] OddNames = ["datapackage.json", "bags.CSV", "sites.csv.csv", " bags.csv", "aux.csv", "notes.txt", "x",
        "bags.csv~", ".hidden", "lots.json", new('n', 200)];

    private static readonly Action<MutableFile, Random>[] OfOneFile =
    [
        FlipBits, InsertBytes, DeleteBytes, SwapCells, RepeatRows, DropHeader, SwapColumns, OddNumber, OddNumber, OddCell, OddCell,
        RenameKey, RepeatKey, NestDeep, Anchors, Encode,
        OtherLineEnds, (f, _) => f.Bytes = [], (f, r) => f.Bytes = f.Bytes[..r.Next(f.Bytes.Length + 1)],
            (f, _) => f.Bytes = [.. f.Bytes, .. f.Bytes],
        ShuffleLines, (f, r) => f.Text = f.Text.Insert(r.Next(f.Text.Length + 1), "\""), (f, r) => f.Text += Pick(OddValues, r),
    ];

    /// <summary>Changes one file, or which files there are.</summary>
    public static void Apply(List<MutableFile> files, Random random, bool mayRename)
    {
        if (files.Count == 0)
            return;
        MutableFile file = files[random.Next(files.Count)];
        switch (mayRename ? random.Next(12) : 11)
        {
            case 0:
                file.Name = files.Any(f => f.Name == "datapackage.json") && random.Next(2) == 0 ? file.Name + ".bak"
                    : Pick(OddNames, random);
                break;
            case 1:
                files.Remove(file);
                break;
            case 2:
                files.Add(new("copy of " + file.Name, file.Bytes));
                break;
            default:
                Pick(OfOneFile, random)(file, random);
                break;
        }
    }

    /// <summary>Damages the bytes of an archive or a workbook as a whole.</summary>
    public static byte[] Broken(byte[] archive, Random random)
    {
        MutableFile file = new("", archive);
        Pick<Action<MutableFile, Random>>([FlipBits, InsertBytes,
            DeleteBytes, (f, r) => f.Bytes = f.Bytes[..r.Next(f.Bytes.Length + 1)], (f, _) => f.Bytes = [.. f.Bytes, .. f.Bytes]],
                random)(file, random);
        return file.Bytes;
    }

    /// <summary>An archive of the files; names that come twice, or that lead out of it, are written as they are.</summary>
    public static byte[] Zip(IEnumerable<MutableFile> files)
    {
        using MemoryStream stream = new();
        using (ZipArchive zip = new(stream, ZipArchiveMode.Create, leaveOpen: true))
        {
            foreach (MutableFile file in files)
            {
                ZipArchiveEntry entry = zip.CreateEntry(file.Name, CompressionLevel.Fastest);
                entry.LastWriteTime = new DateTimeOffset(2025, 1, 1, 0, 0, 0, TimeSpan.Zero);
                using Stream to = entry.Open();
                to.Write(file.Bytes);
            }
        }

        return stream.ToArray();
    }

    public static T Pick<T>(IReadOnlyList<T> of, Random random) => of[random.Next(of.Count)];

    private static void FlipBits(MutableFile file, Random random)
    {
        byte[] bytes = [.. file.Bytes];
        for (int i = random.Next(1, 9); i > 0 && bytes.Length > 0; i--)
            bytes[random.Next(bytes.Length)] ^= (byte)(1 << random.Next(8));
        file.Bytes = bytes;
    }

    private static void InsertBytes(MutableFile file, Random random)
    {
        byte[] inserted = new byte[random.Next(1, 40)];
        random.NextBytes(inserted);
        int at = random.Next(file.Bytes.Length + 1);
        file.Bytes = [.. file.Bytes[..at], .. inserted, .. file.Bytes[at..]];
    }

    private static void DeleteBytes(MutableFile file, Random random)
    {
        int from = random.Next(file.Bytes.Length + 1), to = Math.Min(file.Bytes.Length, from + random.Next(1, 60));
        file.Bytes = [.. file.Bytes[..from], .. file.Bytes[to..]];
    }

    private static void SwapCells(MutableFile file, Random random) => Cells(file, rows =>
    {
        (string[] a, string[] b) = (Pick(rows, random), Pick(rows, random));
        (int i, int j) = (random.Next(a.Length), random.Next(b.Length));
        (a[i], b[j]) = (b[j], a[i]);
    });

    private static void OddCell(MutableFile file, Random random) => Cells(file, rows =>
    {
        string[] row = Pick(rows, random);
        row[random.Next(row.Length)] = Pick(OddValues, random);
    });

    private static void SwapColumns(MutableFile file, Random random) => Cells(file, rows =>
    {
        int i = random.Next(rows[0].Length), j = random.Next(rows[0].Length);
        // the header too, or only what is below it
        foreach (string[] row in rows.Skip(random.Next(2)).Where(r => r.Length > Math.Max(i, j)))
            (row[i], row[j]) = (row[j], row[i]);
    });

    private static void RepeatRows(MutableFile file, Random random)
    {
        string[] lines = file.Text.Split('\n');
        int at = random.Next(lines.Length);
        file.Text = string.Join('\n', [.. lines[..at], .. Enumerable.Repeat(lines[at], random.Next(1, 50)), .. lines[at..]]);
    }

    private static void ShuffleLines(MutableFile file, Random random)
    {
        string[] lines = file.Text.Split('\n');
        random.Shuffle(lines);
        file.Text = string.Join('\n', lines);
    }

    private static void DropHeader(MutableFile file, Random random) =>
        file.Text = file.Text[(file.Text.IndexOf('\n', StringComparison.Ordinal) + 1)..];

    /// <summary>Any run of digits, in a table, in JSON, in YAML or within a workbook.</summary>
    private static void OddNumber(MutableFile file, Random random)
    {
        MatchCollection numbers = Numbers().Matches(file.Text);
        if (numbers.Count == 0)
            return;
        Match one = Pick(numbers, random);
        file.Text = file.Text[..one.Index] + Pick(OddValues, random) + file.Text[(one.Index + one.Length)..];
    }

    private static void RenameKey(MutableFile file, Random random) =>
        Key(file, random, key => random.Next(2) == 0 ? key.ToUpperInvariant() : key + "_x");

    private static void RepeatKey(MutableFile file, Random random) => Key(file, random, key => $"{key}\": 1, \"{key}");

    private static void Key(MutableFile file, Random random, Func<string, string> change)
    {
        MatchCollection keys = Keys().Matches(file.Text);
        if (keys.Count == 0)
            return;
        Match found = Pick(keys, random);
        Group one = found.Groups[1].Success ? found.Groups[1] : found.Groups[2];
        file.Text = file.Text[..one.Index] + change(one.Value) + file.Text[(one.Index + one.Length)..];
    }

    /// <summary>The value of a key, or the end of the file, becomes thousands of lists within lists.</summary>
    private static void NestDeep(MutableFile file, Random random)
    {
        int depth = Pick([10, 70, 5_000, 100_000], random);
        string nested = new string('[', depth) + (random.Next(2) == 0 ? new string(']', depth) : "");
        int colon = file.Text.IndexOf(": ", random.Next(file.Text.Length + 1), StringComparison.Ordinal);
        file.Text = colon < 0 ? file.Text + nested : $"{file.Text[..(colon + 2)]}{nested}, \"x\": {file.Text[(colon + 2)..]}";
    }

    private static void Anchors(MutableFile file, Random random)
    {
        StringBuilder laughs = new("a0: &a0 [x, x]\n");
        for (int i = 1; i < 30; i++)
            laughs.Append(CultureInfo.InvariantCulture, $"a{i}: &a{i} [*a{i - 1}, *a{i - 1}]\n");
        file.Text =
            Pick([laughs.ToString(), "x: &x [*x]\n", "<<: *none\n", "? {a: 1}\n: b\n", "!!binary x\n", "--- \n"], random) + file.Text;
    }

    private static void Encode(MutableFile file, Random random) => file.Bytes = random.Next(4) switch
    {
        0 => [0xEF, 0xBB, 0xBF, .. file.Bytes],
        1 => [0xFF, 0xFE, .. Encoding.Unicode.GetBytes(file.Text)],
        2 => [0xFE, 0xFF, .. Encoding.BigEndianUnicode.GetBytes(file.Text)],
        _ => Encoding.Latin1.GetBytes(file.Text.Replace("e", "\u00E9", StringComparison.Ordinal)),
    };

    private static void OtherLineEnds(MutableFile file, Random random) =>
        file.Text = file.Text.ReplaceLineEndings(Pick(["\r", "\r\n", "\n\n", "\u0085", "\n\r"], random));

    private static void Cells(MutableFile file, Action<string[][]> change)
    {
        char separator = file.Text.Count(c => c == ';') > file.Text.Count(c => c == ',') ? ';' : ',';
        string[][] rows = [.. file.Text.Split('\n').Select(line => line.Split(separator))];
        change(rows);
        file.Text = string.Join('\n', rows.Select(row => string.Join(separator, row)));
    }

    [GeneratedRegex("[0-9]+([.,][0-9]+)?")]
    private static partial Regex Numbers();

    [GeneratedRegex("\"([A-Za-z_]+)\": |\\b([a-z_]+): ")]
    private static partial Regex Keys();
}
