using ShopDiag.Storage.People;

namespace ShopDiag.Web.Saving;

/// <summary>Who works on this tablet: whoever is signed in on the page. What a store writes down it takes from the sign-in itself; this is for showing.</summary>
public sealed class Tablet(IActing acting)
{
    /// <summary>Longest name.</summary>
    public const int NameLength = Person.NameLength;

    /// <summary>Name of the person; empty when nobody is signed in.</summary>
    public string By => acting.Current.Name;
}
