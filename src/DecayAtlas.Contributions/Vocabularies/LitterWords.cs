using System.Text.RegularExpressions;

namespace DecayAtlas.Contributions.Vocabularies;

/// <summary>Words for the fast and the slow litter in four languages.</summary>
internal static partial class LitterWords
{
    private static readonly (LitterRole Role, string Words)[] Known =
    [
        (LitterRole.Fast, "fast schnell schnelle schneller schnellen schnelles schnellem rapide rapides rapida rapido quick rapid flott "
            + "flotte flink vif vive veloz veloces lively brisk"),
        (LitterRole.Slow, "slow langsam langsame langsamer langsamen langsames langsamem lent lente lents lentes lenta lento trage trager "
            + "sluggish"),
    ];

    /// <summary>The litter that a text names; null where it names none.</summary>
    public static LitterRole? RoleOf(string text)
    {
        string folded = Identifier.Folded(text.Trim()).Trim('.', ' ');
        foreach (string token in Token().Matches(folded).Select(match => match.Value))
        {
            foreach ((LitterRole role, string words) in Known)
            {
                if (words.Split(' ').Contains(token))
                    return role;
            }
        }
        return null;
    }

    [GeneratedRegex(@"\p{L}+\d*", RegexOptions.CultureInvariant | RegexOptions.NonBacktracking)]
    private static partial Regex Token();
}
