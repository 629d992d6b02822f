namespace Magrail.Notebooks.Tests.Packages;

/// <summary>A test that asks git for the commit, and leaves itself out in a folder that is no clone, such as an unpacked archive.</summary>
public sealed class CloneFactAttribute : FactAttribute
{
    public CloneFactAttribute()
    {
        string git = Path.Combine(Checkout.Root, ".git");
        if (!Directory.Exists(git) && !File.Exists(git))
        {
            Skip = "LEFT OUT: this folder is no git clone.";
        }
    }
}
