using System.Globalization;

namespace DecayAtlas.Pipeline.Mails;

/// <summary>
/// What was drafted already, so that nothing is drafted twice: a line for each with content hash, what it is about, the day, and a digest
/// of what was said. What was there before the first register is in it as known. The folder of a night has its own lines beside the
/// drafts, so that a run that is killed before it could add them here loses none.
/// </summary>
internal sealed class MailRegister
{
    public const string FileName = "register.txt", LinesName = "list.txt";

    private const string Known = "known";

    private readonly string _path;
    private readonly SortedSet<string> _lines = new(StringComparer.Ordinal);

    private MailRegister(string path) => _path = path;

    /// <summary>The register of an atlas; <see langword="null"/> where it has none yet.</summary>
    public static MailRegister? Find(AtlasFolder atlas)
    {
        MailRegister register = new(Path.Combine(atlas.Mails, FileName));
        if (!File.Exists(register._path))
            return null;
        foreach (string path in Directory.EnumerateDirectories(atlas.Mails).Select(folder => Path.Combine(folder, LinesName))
            .Where(File.Exists).Prepend(register._path))
        {
            register._lines.UnionWith(File.ReadLines(path).Where(line => line.Length > 0));
        }

        return register;
    }

    /// <summary>Begins one, with what need not be drafted any more.</summary>
    public static void Begin(AtlasFolder atlas, IEnumerable<string> contentHashes, DateOnly today)
    {
        MailRegister register = new(Path.Combine(atlas.Mails, FileName));
        register._lines.UnionWith(contentHashes.Select(hash => LineOf(hash, Known, today, "")));
        register.Save();
    }

    public static string LineOf(string contentHash, MailKind kind, DateOnly today, string digest = "") =>
        LineOf(contentHash, AtlasCode.Of(kind), today, digest);

    /// <summary>Whether one was drafted, or was there before the register.</summary>
    public bool Has(string contentHash, MailKind kind, string digest = "") => Of(contentHash)
        .Any(line => line.What == Known || line.What == AtlasCode.Of(kind) && (digest.Length == 0 || line.Digest == digest));

    /// <summary>The day since which its sender knows that something waits.</summary>
    public DateOnly? WaitsSince(string contentHash) =>
        Of(contentHash).Where(line => line.What is Known or "to-mend").Select(line => (DateOnly?)line.Day).Max();

    /// <summary>Whether the sender was reminded since.</summary>
    public bool WasReminded(string contentHash) => Of(contentHash).Any(line => line.What == "reminder");

    public void Add(IEnumerable<string> lines)
    {
        _lines.UnionWith(lines);
        Save();
    }

    private void Save() => DurableFile.Guard(_path, () => DurableFile.WriteText(_path, string.Concat(_lines.Select(line => line + "\n"))));

    private static string LineOf(string contentHash, string what, DateOnly today, string digest) =>
        $"{contentHash} {what} {today:yyyy-MM-dd} {digest}".TrimEnd();

    // a line that somebody garbled says nothing
    private IEnumerable<(string What, DateOnly Day, string Digest)> Of(string contentHash) =>
        from line in _lines.GetViewBetween(contentHash + " ", contentHash + "!")
        let words = line.Split(' ')
        where words.Length >= 3
        let day = DateOnly.TryParseExact(words[2], "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out DateOnly read)
            ? read : (DateOnly?)null
        where day is not null
        select (words[1], day.Value, words.ElementAtOrDefault(3) ?? "");
}
