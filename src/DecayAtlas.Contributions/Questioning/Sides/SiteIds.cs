namespace DecayAtlas.Contributions.Questioning.Sides;

/// <summary>Names of sites as ids: those that differ by capitals, accents and blanks alone are the same site.</summary>
internal static class SiteIds
{
    public static bool AreSame(string one, string other) => KeyOf(one) == KeyOf(other);

    public static List<(string Name, string Id)> Of(IEnumerable<string> names)
    {
        Dictionary<string, string> idOf = [];
        List<(string, string)> words = [];
        foreach (string name in names)
        {
            string key = KeyOf(name);
            if (!idOf.TryGetValue(key, out string? id))
            {
                string made = Identifier.Of(NameIn(name));
                id = made.Length == 0 ? Invariant($"site-{idOf.Count + 1}") : made;
                for (int n = 2; idOf.ContainsValue(id); n++)
                    id = Invariant($"{(made.Length > 60 ? made[..60] : made)}-{n}");
                idOf[key] = id;
            }
            words.Add((name, id));
        }
        return words;
    }

    private static string KeyOf(string name) => string.Concat(Identifier.Folded(NameIn(name)).Where(char.IsLetterOrDigit));

    // the name in a title that holds the coordinates too
    private static string NameIn(string text) => LineFacts.Split(text).Name is { Length: > 0 } name ? name : text;
}
