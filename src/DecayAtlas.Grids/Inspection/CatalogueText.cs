using System.Text;

namespace DecayAtlas.Grids.Inspection;

/// <summary>Adds an entry to a catalogue file and leaves every other letter of it as it was.</summary>
public static class CatalogueText
{
    /// <summary>Adds an entry at the end of the list; makes the catalogue where there is none. An entry that is there is never
    /// replaced.</summary>
    /// <returns>The new entry, as a reader of the catalogue gets it.</returns>
    /// <exception cref="GridException">The catalogue is wrong, holds that name, or is written in a way that cannot be added to.</exception>
    public static CatalogueEntry Add(string path, string name, EntryProposal proposal)
    {
        ArgumentNullException.ThrowIfNull(path);
        ArgumentNullException.ThrowIfNull(proposal);
        IReadOnlyList<CatalogueEntry> before = File.Exists(path) ? GridCatalogue.Load(path).Entries : [];
        if (before.Any(e => e.Name == name))
            throw new GridException($"{path} has a covariate {name} already; choose another name, or take the old one out.");

        byte[] bytes = File.Exists(path) ? File.ReadAllBytes(path) : [];
        bool mark = bytes.AsSpan().StartsWith(Encoding.UTF8.Preamble);
        string text = bytes.Length == 0 ? "version: 1\ngrids:\n" : Encoding.UTF8.GetString(bytes.AsSpan(mark ? 3 : 0));
        string added = With(path, text, proposal.Text);

        // Held against the reader under another name first: what cannot be read back is never put in place.
        return DurableFile.Replace([path], unfinished =>
        {
            string temporary = unfinished(path);
            File.WriteAllText(temporary, added, new UTF8Encoding(mark));
            IReadOnlyList<CatalogueEntry> after = Load(temporary, path);
            if (!after.Select(e => e.Name).SequenceEqual([.. before.Select(e => e.Name), name]))
                throw CannotAdd(path);

            return after[^1];
        });
    }

    internal static string With(string path, string text, IReadOnlyList<string> entry)
    {
        string end = text.Contains("\r\n", StringComparison.Ordinal) ? "\r\n" : "\n";
        List<string> lines = [.. text.Split('\n')];
        int head = lines.FindIndex(l => l.StartsWith("grids:", StringComparison.Ordinal));
        if (head < 0 || WithoutRemark(lines[head]["grids:".Length..]).Length > 0)
            throw CannotAdd(path);

        // The list goes on until a line that begins another key: not indented, no remark, no item.
        int last = head, indent = 2;
        bool any = false;
        for (int i = head + 1; i < lines.Count; i++)
        {
            string line = lines[i].TrimEnd('\r');
            string content = line.TrimStart();
            if (content.Length == 0 || content[0] == '#')
                continue;

            if (line[0] is not (' ' or '-'))
                break;

            if (!any && (content.StartsWith("- ", StringComparison.Ordinal) || content == "-"))
                (indent, any) = (line.Length - content.Length, true);

            last = i;
        }

        bool closed = last < lines.Count - 1; // the last line of the list ends with a line feed
        lines[last] = closed ? lines[last] : lines[last].TrimEnd('\r') + end[..^1];
        lines.InsertRange(last + 1, entry.Select(l => new string(' ', indent) + l + end[..^1]));
        string joined = string.Join('\n', lines);
        return closed ? joined : joined.TrimEnd('\r') + end;
    }

    private static string WithoutRemark(string text) => text.Split('#')[0].Trim();

    // The temporary file's name is no business of the reader of the message.
    private static IReadOnlyList<CatalogueEntry> Load(string temporary, string path)
    {
        try
        {
            return GridCatalogue.Load(temporary).Entries;
        }
        catch (GridException e)
        {
            throw new GridException(e.Message.Replace(temporary, $"{path} with the new entry", StringComparison.Ordinal), e);
        }
    }

    private static GridException CannotAdd(string path) => new(
        $"{path} is not written so that an entry can be added at the end of its list; write grids: on a line of its own, and each grid "
        + "below it beginning with \"- \".");
}
