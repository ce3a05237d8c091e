using System.Security.Cryptography;
using System.Text;

namespace DecayAtlas.Contributions.Kits;

/// <summary>The places of a kit by their names, and the ids that are published. That of a place whose exact position is to be hidden says
/// nothing of its name: place-2, by its row.</summary>
internal sealed class KitPlaces
{
    // by what the name alone would make of it
    private readonly Dictionary<string, string> _idOf = [];
    private readonly Dictionary<string, string> _nameOf = [];

    public static KitPlaces Of(KitSheet sheet, KitFacts facts)
    {
        KitPlaces places = new();
        KitColumn hide = KitForm.PlaceColumns.First(column => column.Field == "coordinates_sensitive");
        (string Name, string Made, bool IsHidden)[] named = [.. sheet.Rows
            .Select(row => (Name: sheet.Cell(row, KitForm.PlaceColumns[0]).Text.Trim(), Hide: sheet.Cell(row, hide).Text.Trim()))
            .Where(row => row.Name.Length > 0)
            // an answer that is none is no leave to publish
            .Select(row => (row.Name, Made(row.Name), row.Hide.Length > 0 && facts.Word(hide.Field, row.Hide) != "no"))];
        HashSet<string> hidden = [.. named.Where(place => place.IsHidden).Select(place => place.Made)];
        HashSet<string> open = [.. named.Select(place => place.Made).Except(hidden)];
        foreach ((int i, (string name, string made, _)) in named.Index())
        {
            string id = made;
            if (hidden.Contains(made))
            {
                id = Invariant($"place-{i + 1}");
                while (open.Contains(id))
                    id += "-x";
            }
            if (places._idOf.TryAdd(made, id))
                places._nameOf.Add(id, name);
        }
        return places;
    }

    public IReadOnlyDictionary<string, string> ById => _nameOf;

    public IReadOnlyList<string> Names => [.. _nameOf.Values];

    public string NameOf(string id) => _nameOf[id];

    /// <summary>The id of a name, whether it is listed or not; empty where there is none.</summary>
    public string IdOf(string name) => _idOf.GetValueOrDefault(Made(name), Made(name));

    public bool IsAsWritten(string text) => _idOf.ContainsKey(Made(text));

    /// <summary>The id of the place that a hole names: by its name, and by it alone where only capitals, accents or spaces differ; null
    /// where it is not listed.</summary>
    public string? Meant(string text)
    {
        if (_idOf.TryGetValue(Made(text), out string? id))
            return id;
        string spelling = KitFacts.Spelling(text);
        return text.Trim().Length == 0 ? null
            : _nameOf.Where(place => KitFacts.Spelling(place.Value) == spelling).Select(place => place.Key).ToArray() is [var only]
                ? only : null;
    }

    // a name in letters that no id takes is told apart by its hash
    private static string Made(string name) => name.Trim().Length == 0 ? "" : Identifier.Of(name) is { Length: > 0 } id ? id
        : "place-" + Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(name.Trim())))[..8];
}
