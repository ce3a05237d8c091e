using System.Text;
using System.Text.RegularExpressions;

namespace DecayAtlas.Contributions.Sending;

/// <summary>A mapping for what mends something that was sent before: the same decisions under another revision.</summary>
public static partial class RevisedMapping
{
    /// <param name="name">Stands for the mapping in messages.</param>
    /// <exception cref="ConfigurationException">It is no mapping, or says its revision in a way that is not ours to change.</exception>
    public static string Of(string name, string mapping, int revision)
    {
        string said = Invariant($"\"{revision}\"");
        string[] lines = mapping.Split('\n');
        YamlDocument document = Parsed(name, mapping);
        bool isThere = document.Root["package"]?["revision"] is not null;
        if (!isThere && document.Root["package"]?["name"] is null)
            throw NotOurs(name, revision);
        int at = (int)document.LineOf(isThere ? "/package/revision" : "/package/name") - 1;
        lines[at] = isThere ? Revision().Replace(lines[at], "${before}" + said, 1)
            : NameFirst().Match(lines[at]) is { Success: true } first
                ? $"{first.Groups["indent"].Value}revision: {said}{(lines[at].EndsWith('\r') ? "\r" : "")}\n{lines[at]}"
                : Name().Replace(lines[at], $"${{before}}revision: {said}, ${{name}}", 1);
        string revised = string.Join('\n', lines);
        return Parsed(name, revised).Root["package"]?["revision"]?.ToString() == Invariant($"{revision}") ? revised
            : throw NotOurs(name, revision);
    }

    private static ConfigurationException NotOurs(string name, int revision) => new(
        $"{name}: found no revision that can be changed by itself; write revision: {Invariant($"{revision}")} under package: there.");

    private static YamlDocument Parsed(string name, string mapping)
    {
        try
        {
            return YamlDocument.Parse(name, () => new MemoryStream(Encoding.UTF8.GetBytes(mapping)));
        }
        catch (YamlDocumentException fault)
        {
            throw new ConfigurationException(fault.Message, fault);
        }
    }

    [GeneratedRegex("""(?<before>["']?revision["']?\s*:\s*)("[^"]*"|'[^']*'|[^\s,}#]+)""",
        RegexOptions.CultureInvariant | RegexOptions.NonBacktracking | RegexOptions.ExplicitCapture)]
    private static partial Regex Revision();

    [GeneratedRegex("""\A(?<indent>\s*)["']?name["']?\s*:""",
        RegexOptions.CultureInvariant | RegexOptions.NonBacktracking | RegexOptions.ExplicitCapture)]
    private static partial Regex NameFirst();

    [GeneratedRegex("""(?<before>[{,]\s*)(?<name>["']?name["']?\s*:)""",
        RegexOptions.CultureInvariant | RegexOptions.NonBacktracking | RegexOptions.ExplicitCapture)]
    private static partial Regex Name();
}
