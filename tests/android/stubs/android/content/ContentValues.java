package android.content;

import java.util.TreeMap;

public class ContentValues {
    public final TreeMap<String, Object> held = new TreeMap<>();

    public void put(String key, String value) {
        held.put(key, value);
    }

    public void put(String key, Long value) {
        held.put(key, value);
    }

    public String told() {
        return held.toString();
    }
}
