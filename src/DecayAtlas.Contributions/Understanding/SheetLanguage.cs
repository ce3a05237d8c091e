namespace DecayAtlas.Contributions.Understanding;

/// <summary>The language that the words of a sheet are in, by words that one of the four languages alone has.</summary>
internal static class SheetLanguage
{
    private static readonly (string Language, string[] Words)[] Telling =
    [
        ("de", Split("beutel sackchen streu ort platz standort lage loch grab gewicht masse vorher nachher ende anfang "
            + "datum schnell langsam flott trage vergraben ausgegraben breite lange nr bemerkung bemerkungen "
            + "behandlung wiederholung und mit ohne beginn")),
        ("es", Split("bolsita bolsitas bolsa saquito saquitos hojarasca lugar sitio hoyo peso masa antes despues inicio "
            + "fecha rapida lenta entierro retiro desentierro latitud longitud ubicacion coordenadas observaciones "
            + "tratamiento y con sin del los las")),
        ("fr", Split("sachet sachets pochette pochettes litiere lieu endroit trou fosse poids avant apres depart fin "
            + "rapide lente mise sortie enfoui enfouissement remarques traitement parcelle et avec sans du les des "
            + "coordonnees")),
        ("en", Split("bag bags litter place site hole weight mass before after start end fast slow quick buried retrieved "
            + "notes treatment and with without the of")),
    ];

    /// <returns>en, de, es or fr; null where two say the same or nothing is said.</returns>
    public static string? Of(IEnumerable<string> texts)
    {
        HashSet<string> words = [.. texts.SelectMany(text => Identifier.Folded(text)
            .Split([' ', '(', ')', '[', ']', ',', '.', ';', ':', '/', '-', '_', '"', '='], StringSplitOptions.RemoveEmptyEntries))];
        (string Language, int Count)[] found = [.. Telling.Select(entry => (entry.Language, entry.Words.Count(words.Contains)))
            .OrderByDescending(entry => entry.Item2)];
        return found[0].Count > found[1].Count ? found[0].Language : null;
    }

    private static string[] Split(string words) => words.Split(' ');
}
