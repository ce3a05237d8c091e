using System.Globalization;

namespace DecayAtlas.Kit.Groups;

/// <summary>By what a class reckons the share of litter that is left. Water that the first weighing has and the second has not would pass
/// for litter that rotted.</summary>
internal sealed class ClassShare
{
    // as the check takes them: nothing is left of the water
    private static readonly string[] Dried = ["oven", "freeze"];

    private readonly GroupKit _kit;
    private readonly bool _isAlikeBothTimes, _isDriedAfter;

    // shares of the litter as it came that are no water, as a curator states them; null where one is not stated or nobody weighs it so
    private readonly (string Fast, string Slow)? _dryParts, _water;

    private ClassShare(GroupKit kit)
    {
        _kit = kit;
        string before = kit.Campaign.Bags["drying_initial"], after = kit.Campaign.Bags["drying"];
        _isDriedAfter = Dried.Contains(after);
        // litter that lay in the same air both times held about the same water
        _isAlikeBothTimes = (before == "air" && after == "air") || (Dried.Contains(before) && _isDriedAfter);
        if (before != "none" || !_isDriedAfter || WaterOf(kit.Fast) is not { } fast || WaterOf(kit.Slow) is not { } slow)
            return;
        _dryParts = (Said(1 - fast), Said(1 - slow));
        _water = (Said(100 * fast), Said(100 * slow));
    }

    public static ClassShare Of(GroupKit kit) => new(kit);

    private static decimal? WaterOf(IReadOnlyDictionary<string, string> lot) =>
        lot.TryGetValue("moisture_fraction", out string? text)
            ? decimal.Parse(text, NumberStyles.Float, CultureInfo.InvariantCulture) : null;

    private string Said(decimal number) => _kit.Number(number.ToString("0.####", CultureInfo.InvariantCulture));

    /// <summary>How the share is reckoned.</summary>
    public IEnumerable<string> Sentences
    {
        get
        {
            Phrases words = _kit.Words;
            string basis = _kit.IsGross ? "gross" : "litter";
            yield return words[$"kit.experiment.share.{basis}{(_dryParts is null ? "" : ".moist")}"];
            if (_kit.IsGross)
                yield return words.Say("kit.experiment.empty", _kit.Number(_kit.Fast["tare_g"]), _kit.Number(_kit.Slow["tare_g"]));
            if (_dryParts is { } parts)
                yield return words.Say("kit.experiment.dry", parts.Fast, parts.Slow);
            else if (!_isAlikeBothTimes)
                yield return words["kit.experiment.water"];
        }
    }

    /// <summary>What a pair that was not buried shows.</summary>
    public string Spare => _isAlikeBothTimes ? _kit.Words["kit.experiment.spare"]
        : _water is { } water ? _kit.Words.Say("kit.experiment.spare.moist", water.Fast, water.Slow)
        : _kit.Words["kit.experiment.spare.water"];
}
