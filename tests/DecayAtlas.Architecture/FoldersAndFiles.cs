using System.Text.RegularExpressions;

namespace DecayAtlas.Architecture;

/// <summary>A newcomer finds the room for a change: folders are small, and their files can be read.</summary>
public class FoldersAndFiles
{
    private const int LongestLine = 140;

    /// <summary>A text in quotation marks: in a test it may be an example that is as long as it is.</summary>
    private const string Literal = "\"(?:[^\"\\\\]|\\\\.)*\"";

    [Fact]
    public void No_folder_holds_more_than_fifteen_files_and_no_root_more_than_five() => None(
        from file in SourceTree.FilesOf("src")
        group file by Path.GetDirectoryName(file)!.Replace('\\', '/') into folder
        let most = folder.Key.Count(c => c == '/') == 1 ? 5 : 15
        where folder.Count() > most
        select $"{folder.Key} holds {folder.Count()} files, and {most} are the most; give those that belong together a folder");

    /// <summary>The build holds code to this length too, but neither comments nor, in tests, examples in other languages.</summary>
    [Fact]
    public void No_line_is_longer_than_140_columns() => None(
        from file in SourceTree.FilesOf("src").Concat(SourceTree.FilesOf("tests"))
        from line in OutsideRawText(file)
        where line.Text.Length > LongestLine
            && (file.StartsWith("src/", StringComparison.Ordinal) || Regex.Replace(line.Text, Literal, "").Length > LongestLine)
        select $"{file}, line {line.Number}, has {line.Text.Length} columns");

    /// <summary>The build holds code to its layout (IDE0055), which ends with the lines.</summary>
    [Fact]
    public void Each_line_ends_with_a_line_feed_alone_and_nothing_stands_before_the_first() => None(
        from file in SourceTree.FilesOf("src").Concat(SourceTree.FilesOf("tests"))
        let bytes = SourceTree.BytesOf(file)
        where bytes.Length == 0 || bytes[0] == 0xEF || bytes[^1] != '\n' || Array.IndexOf(bytes, (byte)'\r') >= 0
        select $"{file} has a byte order mark, a carriage return, or no line feed at its end");

    /// <summary>The lines that are not text of another language between three quotation marks.</summary>
    private static IEnumerable<(int Number, string Text)> OutsideRawText(string file)
    {
        bool isInside = false;
        foreach ((int i, string line) in SourceTree.LinesOf(file).Index())
        {
            bool turns = line.Split("\"\"\"").Length % 2 == 0;
            if (!isInside && !turns)
                yield return (i + 1, line);
            isInside ^= turns;
        }
    }

    private static void None(IEnumerable<string> faults)
    {
        string all = string.Join('\n', faults);
        Assert.True(all.Length == 0, all);
    }
}
